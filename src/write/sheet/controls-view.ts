/** The controls of the page as HTML. */
import type { Song } from './page-data.js';

/** Per cent of the speed as sung. */
const SPEED = { slowest: 25, fastest: 150, step: 5, first: 100 };
/** Per cent of full volume: a sheet starts quietly. */
const FIRST_VOLUME = 40;

export function controlsHtml(song: Song): string {
  const lines = song.lines.map(
    (_, i) => `<option value="${i + 1}"${i === 0 ? ' selected' : ''}>line ${i + 1}</option>`,
  );
  const keys = song.keys.map(({ semitones, name }, i) => {
    const way = semitones === 0 ? 'as sung' : `${Math.abs(semitones)} ${semitones > 0 ? 'up' : 'down'}`;
    return `<option value="${i}"${semitones === 0 ? ' selected' : ''}>${name === '' ? way : `${name}, ${way}`}</option>`;
  });
  const sound =
    song.sound === null
      ? ''
      : `<label>Sound <select id="sound"><option value="piano">piano</option><option value="recording">recording</option><option value="both">both</option></select></label>`;
  return `<div class="controls" role="group" aria-label="Playing">
<button type="button" id="play">Play</button>
<label>What <select id="line"><option value="0">whole song</option>${lines.join('')}</select></label>
<label>Speed <input type="range" id="speed" min="${SPEED.slowest}" max="${SPEED.fastest}" step="${SPEED.step}" value="${SPEED.first}"> <output id="speed-shown" for="speed">${SPEED.first} %</output></label>
<label><input type="checkbox" id="loop"> loop</label>
<label><input type="checkbox" id="count-in"${song.counts === null ? ' disabled' : ' checked'}> count-in</label>
<label>Volume <input type="range" id="volume" min="0" max="100" step="5" value="${FIRST_VOLUME}"></label>
${sound}
<label>Key <select id="key">${keys.join('')}</select></label>
<label><input type="checkbox" id="names" checked> note names</label>
</div>
<p class="screen" id="cannot-play" hidden>This browser is too old to play and to change the key: everything else works.</p>
<noscript><p class="screen">Without scripts the page can be read and printed; playing, other keys and ticks need them.</p></noscript>
<p class="screen">Space plays and stops; the arrows left and right choose a line.</p>
`;
}
