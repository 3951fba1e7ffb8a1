/** The practice sheet: one HTML page that needs nothing but itself. */
import { createHash } from 'node:crypto';
import { gzipSync } from 'node:zlib';
import type { Melody } from '../../melody.js';
import type { NameSystem } from '../../theory/name-systems.js';
import { FINGER_CAUTION } from '../caution.js';
import { rounded } from '../numbers.js';
import { linePlot, plotCaption } from '../plot/plot.js';
import type { KeyDrawing } from './annotate.js';
import { controlsHtml } from './controls-view.js';
import { lineCounts } from './counts.js';
import { drawKeys } from './draw-keys.js';
import type { Engrave } from './engrave.js';
import { factsHtml, keyName } from './facts-view.js';
import { lineHtml, lineWords, songLines } from './line-view.js';
import { escaped } from './names.js';
import { ROW_UNITS } from './notation-svg.js';
import type { Song, SongInKey } from './page-data.js';
import { PAGE_SCRIPT } from './page-script.js';
import { rowsOf } from './rows.js';
import { scalesHtml } from './scales-view.js';
import { glyphDefinitions } from './slices.js';
import { PAGE_STYLE } from './style.js';
import type { SheetInput } from './types.js';

/** Strongest: the keys of one song are much alike, and small pages are sent about more easily. */
const GZIP_LEVEL = 9;
const ID_LENGTH = 16;

/**
 * The page in full. Everything shown without a script is in it: the lines in the song's own key, scales, plots; the
 * script adds sound, other keys, ticks that stay, and rows for narrow screens.
 *
 * Names from outside are only ever shown as text. Beyond that the page's own policy (Content Security Policy Level 3,
 * W3C) lets run no script but its own, by its hash, and lets nothing be fetched or sent.
 */
export function sheetHtml(input: SheetInput, engrave: Engrave): string {
  const { melody, track, sound } = input;
  const { keys: drawings, glyphs } = drawKeys(
    input.keys.map((key) => key.melody),
    input.names,
    engrave,
  );
  const inKeys = input.keys.map((key, i) => ({
    ...key,
    song: songInKey(key.melody, input.names, drawings[i]!),
  }));
  const own = inKeys.find(({ semitones }) => semitones === 0)!.song;
  const song = songOf(input);
  const lines = song.lines.map((_, i) => {
    const number = i + 1;
    const rows = rowsOf(own.drawing.frame, own.drawing.lines[i]!, i === 0, ROW_UNITS).join('');
    return lineHtml(
      melody,
      number,
      own.words[i]!,
      rows,
      track === null ? null : linePlot(melody, track, number),
    );
  });
  const packed = inKeys.map(({ semitones, song: inKey }) => {
    const bytes = gzipSync(JSON.stringify(inKey), { level: GZIP_LEVEL });
    return data(`key${semitones}`, bytes.toString('base64'), 'application/gzip');
  });
  const title = escaped(input.title);
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy(sound !== null)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<link rel="icon" href="data:,">
<title>${title}</title>
<style>${PAGE_STYLE}</style>
</head>
<body>
<svg class="glyphs" aria-hidden="true" focusable="false"><defs>${glyphDefinitions(glyphs)}</defs></svg>
<header>
<h1>${title}</h1>
${factsHtml(melody, input.names)}
<p class="caution">${FINGER_CAUTION}</p>
</header>
<main>
${controlsHtml(song)}
<p class="screen"><span id="learnt-count"></span> <span id="next" role="status"></span></p>
<h2 id="lines">Lines</h2>
${lines.join('')}<section class="scales"><h2>Scales that hold the notes</h2>
<p>The likeliest first. A ring is the tonic, a dot a note of the scale, a cross a note that is sung outside it.</p>
<ol id="scales">${own.scales}</ol></section>
</main>
<footer>${track === null ? '' : `<p class="screen">${plotCaption(melody)}</p>`}<p>Made by cantilena. Notes with a question mark are doubtful: check them by ear.</p></footer>
${data('song', JSON.stringify(song).replaceAll('<', '\\u003c'), 'application/json')}
${packed.join('\n')}
${sound === null ? '' : data('recording', Buffer.from(sound.bytes).toString('base64'), 'application/octet-stream')}
<script>${PAGE_SCRIPT}</script>
</body>
</html>
`;
}

function songInKey(melody: Melody, names: NameSystem, drawing: KeyDrawing): SongInKey {
  return {
    midis: melody.notes.map(({ midi }) => midi),
    drawing,
    words: lineWords(melody, names),
    scales: scalesHtml(melody, names),
  };
}

function songOf({ melody, keys, sound, title, names }: SheetInput): Song {
  const times = melody.notes.map(({ start, end }) => [rounded(start, 3), rounded(end, 3)] as const);
  const lines = songLines(melody);
  const named = JSON.stringify([title, times, lines]);
  return {
    id: createHash('sha256').update(named).digest('hex').slice(0, ID_LENGTH),
    times,
    lines,
    counts: lineCounts(melody),
    keys: keys.map((key) => ({ semitones: key.semitones, name: keyName(key.melody, names) })),
    sound: sound === null ? null : { mediaType: sound.mediaType, startSeconds: sound.startSeconds },
  };
}

/** Text that only the script reads. It never holds `<`. */
function data(id: string, text: string, type: string): string {
  return `<script type="${type}" id="${id}">${text}</script>`;
}

function policy(withSound: boolean): string {
  const hash = (text: string) => `'sha256-${createHash('sha256').update(text).digest('base64')}'`;
  return [
    "default-src 'none'",
    `script-src ${hash(PAGE_SCRIPT)}`,
    `style-src ${hash(PAGE_STYLE)}`,
    "connect-src 'none'",
    'img-src data:',
    ...(withSound ? ['media-src blob:'] : []),
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
}
