/** The page's script: joins the controls to the player, the notation and the store. */
import type { Song, SongInKey } from '../page-data.js';
import { bytesIn, createKeys } from './keys.js';
import { createNotation } from './notation.js';
import { createPlayer, type Wishes } from './player.js';
import { followProgress } from './progress.js';

const song = JSON.parse(document.getElementById('song')!.textContent!) as Song;
const field = <T extends HTMLElement>(id: string) => document.getElementById(id) as T;
const controls = {
  play: field<HTMLButtonElement>('play'),
  line: field<HTMLSelectElement>('line'),
  speed: field<HTMLInputElement>('speed'),
  speedShown: field<HTMLOutputElement>('speed-shown'),
  loop: field<HTMLInputElement>('loop'),
  countIn: field<HTMLInputElement>('count-in'),
  volume: field<HTMLInputElement>('volume'),
  sound: document.getElementById('sound') as HTMLSelectElement | null,
  key: field<HTMLSelectElement>('key'),
  names: field<HTMLInputElement>('names'),
};
const own = song.keys.findIndex(({ semitones }) => semitones === 0);
const keys = createKeys(song);
const notation = createNotation(song);
let inKey: SongInKey | null = null;

const wishes = (): Wishes => ({
  line: Number(controls.line.value),
  speed: Number(controls.speed.value) / 100,
  loop: controls.loop.checked,
  countIn: controls.countIn.checked,
  volume: Number(controls.volume.value) / 100,
  sound: (controls.sound?.value ?? 'piano') as Wishes['sound'],
});
const player = createPlayer(song, wishes, () => inKey!.midis, recording(), markSounding, showPlaying);

/** The recording in the page, as something that plays; null where there is none. */
function recording(): HTMLAudioElement | null {
  if (song.sound === null) return null;
  const audio = new Audio(
    URL.createObjectURL(new Blob([bytesIn('recording')], { type: song.sound.mediaType })),
  );
  audio.preload = 'auto';
  return audio;
}

let marked = 0;
function markSounding(note: number): void {
  if (note === marked) return;
  for (const part of document.querySelectorAll('.now')) part.classList.remove('now');
  marked = note;
  for (const part of document.querySelectorAll(`[data-n="${note}"]`)) part.classList.add('now');
}

function showPlaying(): void {
  const playing = player.isPlaying();
  controls.play.textContent = playing ? 'Stop' : 'Play';
  const line = Number(controls.line.value);
  for (const button of document.querySelectorAll<HTMLButtonElement>('button.play')) {
    const mine = Number(button.dataset.line) === line;
    button.textContent = playing && mine ? 'Stop' : 'Play';
    button.setAttribute('aria-label', `${button.textContent} line ${button.dataset.line}`);
    button.closest('.line')!.classList.toggle('chosen', mine);
  }
}

async function loaded(): Promise<SongInKey> {
  inKey ??= await keys.load(own);
  return inKey;
}

async function start(): Promise<void> {
  await loaded();
  player.play();
  showPlaying();
}

function toggle(): void {
  if (player.isPlaying()) player.stop();
  else void start();
}

/** Chooses a line; what plays goes on with it. */
function choose(line: number): void {
  const playing = player.isPlaying();
  controls.line.value = String(line);
  document.getElementById(line === 0 ? 'lines' : `line-${line}`)?.scrollIntoView({ block: 'nearest' });
  if (playing) void start();
  showPlaying();
}

controls.play.addEventListener('click', toggle);
controls.line.addEventListener('change', () => choose(Number(controls.line.value)));
for (const button of document.querySelectorAll<HTMLButtonElement>('button.play')) {
  button.addEventListener('click', () => {
    const same = controls.line.value === button.dataset.line;
    controls.line.value = button.dataset.line!;
    if (same) toggle();
    else void start();
  });
}
controls.speed.addEventListener('input', () => {
  controls.speedShown.textContent = `${controls.speed.value} %`;
  player.changed();
});
controls.volume.addEventListener('input', player.changed);
controls.sound?.addEventListener('change', () => player.isPlaying() && void start());
controls.names.addEventListener('change', () => {
  document.body.classList.toggle('no-names', !controls.names.checked);
});
controls.key.addEventListener('change', async () => {
  const index = Number(controls.key.value);
  inKey = await keys.load(index);
  field('key-name').textContent = song.keys[index]!.name;
  notation.show(inKey);
  markSounding(0);
  // A recording stays in its own key: the piano alone can go along.
  if (controls.sound !== null) {
    controls.sound.disabled = index !== own;
    if (index !== own) controls.sound.value = 'piano';
  }
  if (player.isPlaying()) void start();
});

document.addEventListener('keydown', (event) => {
  const target = event.target as HTMLElement;
  if (
    controls.play.disabled ||
    event.ctrlKey ||
    event.altKey ||
    event.metaKey ||
    target.closest('button, input, select, summary, a')
  )
    return;
  const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
  if (event.key === ' ') toggle();
  else if (step !== undefined)
    choose(Math.min(song.lines.length, Math.max(0, Number(controls.line.value) + step)));
  else return;
  event.preventDefault();
});

const refit = () => {
  if (!controls.play.disabled && !notation.fits()) void loaded().then(notation.fit);
};
addEventListener('resize', refit);
addEventListener('beforeprint', () => inKey !== null && notation.print(inKey));
addEventListener('afterprint', refit);
followProgress(song);
showPlaying();
// The keys lie in the page in compressed form; browsers unpack it since 2023.
if ('DecompressionStream' in globalThis) refit();
else {
  field('cannot-play').hidden = false;
  for (const control of document.querySelectorAll<HTMLButtonElement>('#key, button')) control.disabled = true;
}
document.documentElement.classList.add('ready');
