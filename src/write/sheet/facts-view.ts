/** What the head of the page says about the music. */
import type { Melody } from '../../melody.js';
import type { NameSystem } from '../../theory/name-systems.js';
import { tempoUnit } from '../score/musicxml-marks.js';
import { gradeWords } from '../screen/grade-words.js';
import { shownKey } from './names.js';

/** A recording nearer to A4 = 440 Hz than this, in cents, is in tune to the ear (our choice). */
const IN_TUNE_CENTS = 5;

/** `F major`, or nothing where no scale is known. */
export function keyName({ scales }: Pick<Melody, 'scales'>, names: NameSystem): string {
  const [best] = scales;
  return best === undefined ? '' : shownKey(best, names);
}

/** Pairs of what and its value; the key comes first, under a name of its own since it changes in the page. */
export function factsHtml(melody: Melody, names: NameSystem): string {
  const { tempo, meter, tuningCents } = melody;
  const facts: [string, string][] = [];
  if (meter.beatsPerBar !== null) facts.push(['Bars', `${meter.beatsPerBar}/${meter.beatUnit ?? 4}`]);
  if (tempo.bpm !== null) facts.push(['Tempo', tempoWords(tempo.bpm, melody)]);
  else facts.push(['Tempo', 'no steady beat was heard: lengths are short (black) or long (white) only']);
  const cents = Math.round(tuningCents);
  if (Math.abs(cents) >= IN_TUNE_CENTS) {
    facts.push(['Tuning', `${Math.abs(cents)} cents ${cents > 0 ? 'higher' : 'lower'} than a piano`]);
  }
  facts.push(['For a beginner', gradeWords(melody.grade)]);
  const key = keyName(melody, names);
  const head = key === '' ? '' : `<div><dt>Key</dt><dd id="key-name">${key}</dd></div>`;
  return `<dl class="facts">${head}${facts.map(([what, value]) => `<div><dt>${what}</dt><dd>${value}</dd></div>`).join('')}</dl>`;
}

function tempoWords(bpm: number, { meter }: Melody): string {
  const unit = tempoUnit(meter.beatUnit ?? 4, meter.beatsPerBar ?? 4);
  const note = `${unit.dotted ? 'dotted ' : ''}${unit.type} notes`;
  return `${Math.round(bpm / unit.beats)} ${note} a minute`;
}
