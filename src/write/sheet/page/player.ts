/** Plays a line or the whole song: piano, recording or both, at any speed, in a loop, counted in. */
import type { Song } from '../page-data.js';
import { LEAD_SECONDS, noteAt, type Pass, passOf } from './passes.js';
import { createPiano, type Piano } from './piano.js';

export interface Wishes {
  /** Number of the line, 0 for the whole song. */
  readonly line: number;
  /** 1 is as sung. */
  readonly speed: number;
  readonly loop: boolean;
  readonly countIn: boolean;
  /** 0..1. */
  readonly volume: number;
  readonly sound: 'piano' | 'recording' | 'both';
}

export interface Player {
  readonly isPlaying: () => boolean;
  readonly play: () => void;
  readonly stop: () => void;
  /** Takes over a wish that changed while it plays; a new speed goes on from where it is. */
  readonly changed: () => void;
}

/** Sounds are handed to the audio clock this many seconds ahead, every so many milliseconds. */
const AHEAD_SECONDS = 0.4;
const TURN_MILLISECONDS = 40;

interface Running {
  readonly pass: Pass;
  readonly speed: number;
  /** Times of the audio clock and of the song that go together. */
  readonly audioStart: number;
  readonly songStart: number;
  /** Number of the next note to hand over. */
  next: number;
}

/**
 * @param midis keys of the melody in the key shown
 * @param recording the recording's player, null where there is none
 * @param sounding told the number of the note that sounds, 0 for none
 */
export function createPlayer(
  song: Song,
  wishes: () => Wishes,
  midis: () => readonly number[],
  recording: HTMLAudioElement | null,
  sounding: (note: number) => void,
  ended: () => void,
): Player {
  let audio: { context: AudioContext; master: GainNode; piano: Piano } | null = null;
  let running: Running | null = null;
  let timer = 0;

  const open = () => {
    if (audio !== null) return audio;
    const context = new AudioContext();
    const master = new GainNode(context, { gain: 0 });
    master.connect(context.destination);
    audio = { context, master, piano: createPiano(context, master) };
    return audio;
  };
  const songTime = (now: number, { audioStart, songStart, speed }: Running) =>
    songStart + (now - audioStart) * speed;

  const begin = (pass: Pass, from: number, withClicks: boolean) => {
    const { context, piano } = open();
    const { speed } = wishes();
    const lead = withClicks ? (pass.clicks[0]?.before ?? 0) / speed : 0;
    const audioStart = context.currentTime + LEAD_SECONDS + lead;
    const first = song.times.findIndex(([, end], i) => i + 1 >= pass.first && end > from) + 1;
    running = { pass, speed, audioStart, songStart: from, next: first };
    if (withClicks)
      for (const { before, isFirst } of pass.clicks) piano.knock(audioStart - before / speed, isFirst);
    startRecording(lead + LEAD_SECONDS, from, speed);
  };
  const startRecording = (afterSeconds: number, from: number, speed: number) => {
    if (recording === null || wishes().sound === 'piano') return;
    recording.playbackRate = speed;
    recording.volume = wishes().volume;
    recording.currentTime = Math.max(0, from - (song.sound?.startSeconds ?? 0));
    const mine = running;
    setTimeout(() => {
      if (running === mine) void recording.play();
    }, afterSeconds * 1000);
  };
  const turn = () => {
    if (audio === null || running === null) return;
    const { context, piano } = audio;
    const { pass, audioStart, songStart, speed } = running;
    const at = (seconds: number) => audioStart + (seconds - songStart) / speed;
    while (
      running.next <= pass.last &&
      at(song.times[running.next - 1]![0]) < context.currentTime + AHEAD_SECONDS
    ) {
      const [start, end] = song.times[running.next - 1]!;
      if (wishes().sound !== 'recording') {
        piano.strike(midis()[running.next - 1]!, Math.max(at(start), context.currentTime), at(end));
      }
      running.next++;
    }
    const now = songTime(context.currentTime, running);
    sounding(context.currentTime < audioStart ? 0 : noteAt(song.times, pass, now));
    if (now < pass.end) return;
    recording?.pause();
    if (wishes().loop) begin(pass, pass.start, true);
    else stop();
  };
  const halt = () => {
    audio?.piano.silence();
    recording?.pause();
    running = null;
    sounding(0);
  };
  const stop = () => {
    halt();
    clearInterval(timer);
    ended();
  };
  const fade = () => {
    if (audio === null) return;
    audio.master.gain.setTargetAtTime(wishes().volume, audio.context.currentTime, 0.05);
    if (recording !== null) recording.volume = wishes().volume;
  };

  return {
    isPlaying: () => running !== null,
    play: () => {
      const { context } = open();
      void context.resume();
      fade();
      clearInterval(timer);
      halt();
      const { line, countIn } = wishes();
      const pass = passOf(song, line, countIn);
      begin(pass, pass.start, true);
      timer = window.setInterval(turn, TURN_MILLISECONDS);
    },
    stop,
    changed: () => {
      if (audio === null || running === null) return;
      fade();
      const { pass, speed } = running;
      if (speed === wishes().speed) return;
      const now = Math.max(pass.start, songTime(audio.context.currentTime, running));
      audio.piano.silence();
      recording?.pause();
      begin(pass, now, false);
    },
  };
}
