/** The summary as a page that links to every song's sheet. */
import { clock } from '../write/clock.js';
import { failureWords, type Summary } from './summary.js';

const STYLE = `
:root { color-scheme: light dark; font: 1rem/1.5 Georgia, 'Times New Roman', serif; }
body { max-width: 60rem; margin: 2rem auto; padding: 0 1rem; }
table { border-collapse: collapse; width: 100%; }
caption { text-align: left; padding-bottom: 0.5rem; }
th, td { text-align: left; padding: 0.3rem 0.8rem 0.3rem 0; border-bottom: 1px solid; vertical-align: top; overflow-wrap: anywhere; }
td.number, th.number { text-align: right; white-space: nowrap; }
@media print { a { color: inherit; text-decoration: none; } }
`.trim();

/** Names come from outside: everything is text, and nothing may run. */
function escaped(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replace(/\p{Cc}+/gu, ' ');
}

function address(...steps: readonly string[]): string {
  return steps
    .flatMap((step) => step.split('/'))
    .map(encodeURIComponent)
    .join('/');
}

/** One HTML file without scripts; the songs easiest first. */
export function indexPage({ songs, failed }: Summary): string {
  const rows = songs.map(({ level, name, folder, key, notes, lines, seconds, files }) => {
    const sheet = files.find((file) => file.endsWith('.html'));
    const title = escaped(name);
    const link = sheet === undefined ? title : `<a href="${escaped(address(folder, sheet))}">${title}</a>`;
    const cells = [level.toFixed(1), String(notes), String(lines), clock(seconds)].map(
      (text) => `<td class="number">${text}</td>`,
    );
    return `<tr>${cells[0]}<td>${link}</td><td>${escaped(key)}</td>${cells.slice(1).join('')}</tr>`;
  });
  const table =
    songs.length === 0
      ? '<p>No song was heard.</p>'
      : `<table>
<caption>Easiest first. The grade goes from 1 to 10; hands and people differ.</caption>
<thead><tr><th class="number" scope="col">grade</th><th scope="col">song</th><th scope="col">key</th><th class="number" scope="col">notes</th><th class="number" scope="col">lines</th><th class="number" scope="col">length</th></tr></thead>
<tbody>
${rows.join('\n')}
</tbody>
</table>`;
  const failures =
    failed.length === 0
      ? ''
      : `<h2>Not heard</h2>\n<ul>\n${failed
          .map((song) => `<li>${escaped(failureWords(song))}</li>`)
          .join('\n')}\n</ul>\n`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Songs to learn</title>
<style>
${STYLE}
</style>
</head>
<body>
<h1>Songs to learn</h1>
${table}
${failures}</body>
</html>
`;
}
