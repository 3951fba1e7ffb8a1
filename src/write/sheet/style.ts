/** The page's style sheet: a printed lesson page, on screens too. */
import { NOTATION_STYLE } from './glyph-style.js';

/**
 * 1 em of a staff is 10 mm on paper: its five lines are 7.2 mm high, as in books for beginners. Eight lines fill a
 * page.
 */
export const PAGE_STYLE = `${NOTATION_STYLE}
:root{color-scheme:light dark;--ink:#1b1b1b;--paper:#fffdf8;--quiet:#595650;--rule:#cfc9bd;--alert:#a3201a;--accent:#1d4f91;--now:#1d4f91}
@media(prefers-color-scheme:dark){:root{--ink:#ece8df;--paper:#191816;--quiet:#b3ada1;--rule:#4a463f;--alert:#ff9d8f;--accent:#9cc3ff;--now:#9cc3ff}}
*{box-sizing:border-box}
html{scroll-padding-top:9rem}
body{margin:0 auto;padding:1rem;max-width:46.5rem;background:var(--paper);color:var(--ink);font:1rem/1.45 Georgia,"Liberation Serif",serif}
h1{font-size:1.7rem;margin:.2rem 0;overflow-wrap:anywhere}h2{font-size:1.25rem;margin:1.6rem 0 .4rem}h3{font-size:1.05rem;margin:0}
p{margin:.3rem 0}a{color:var(--accent)}
.facts{display:flex;flex-wrap:wrap;gap:.1rem 1.4rem;margin:.3rem 0}.facts div{display:flex;gap:.4rem}.facts dt{color:var(--quiet)}.facts dd{margin:0}
.unseen{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}
.glyphs{position:absolute;width:0;height:0}
.controls{position:sticky;top:0;z-index:1;display:flex;flex-wrap:wrap;align-items:center;gap:.35rem .9rem;margin:.8rem -1rem;padding:.5rem 1rem;background:var(--paper);border-block:1px solid var(--rule);font-size:.95rem}
.controls label{display:inline-flex;align-items:center;gap:.35rem}
button,select{font:inherit;color:inherit;background:transparent;border:1px solid var(--quiet);border-radius:3px;padding:.2rem .7rem;min-height:2rem}
select{max-width:11rem;background:var(--paper)}input[type=range]{width:6.5rem;accent-color:var(--accent)}input[type=checkbox]{width:1.15rem;height:1.15rem;accent-color:var(--accent)}
#play{min-width:4.5rem;font-weight:bold}
:focus-visible{outline:3px solid var(--accent);outline-offset:2px}
.line{margin:0;padding:.7rem 0 .5rem;border-top:1px solid var(--rule);scroll-margin-top:9rem}
.line.chosen{box-shadow:-.55rem 0 0 var(--paper),-.8rem 0 0 var(--accent)}
.head{display:flex;flex-wrap:wrap;align-items:baseline;gap:.1rem .9rem}
.letter{display:inline-block;border:1.5px solid currentColor;padding:0 .4rem;margin-right:.2rem}
.like,.where,.hand,.share{color:var(--quiet);font-weight:normal}.where{margin:0}.hand{font-style:italic}
.tools{margin:0 0 0 auto;display:flex;gap:.8rem;align-items:center}.tools label{display:inline-flex;gap:.3rem;align-items:center}
.staff{font-size:10mm;line-height:0}
.no-names .row .name:not(.doubt){visibility:hidden}
.row .doubt{fill:var(--alert)}
[data-n].now{color:var(--now);fill:var(--now);stroke:var(--now);stroke-width:45}
.doubts{margin:.2rem 0;padding-left:1.2rem}.doubts strong{color:var(--alert)}
details{margin:.3rem 0}summary{color:var(--quiet);cursor:pointer;width:fit-content}
.plot{width:100%;height:auto;display:block}.plot text{fill:currentColor;font-family:sans-serif}
.plot .frame,.plot .grid{fill:none;stroke:currentColor;stroke-width:2}.plot .grid{stroke:var(--rule);stroke-width:1}
.plot .heard{fill:none;stroke:var(--accent);stroke-width:5;stroke-linecap:round;stroke-linejoin:round}
.plot .written,.plot .other{fill:none;stroke:currentColor;stroke-width:4}.plot .other{stroke:var(--alert);stroke-dasharray:12 8}.plot .doubt{fill:var(--alert);font-weight:bold}
#scales{list-style:none;margin:0;padding:0;display:grid;grid-template-columns:repeat(auto-fill,minmax(15rem,1fr));gap:1rem 1.6rem}
.keyboard{width:15rem;max-width:100%;height:auto;display:block}
.keyboard .white{fill:#fff;stroke:#444;stroke-width:.4}.keyboard .black{fill:#1b1b1b}
.keyboard .dot{fill:#1b1b1b}.keyboard .ring{fill:none;stroke:#1b1b1b;stroke-width:.7}.keyboard .cross{fill:none;stroke:#a3201a;stroke-width:.9}
.keyboard .on-black .dot{fill:#fff}.keyboard .on-black .ring{stroke:#fff}.keyboard .on-black .cross{stroke:#ff9d8f}
.keyboard text{fill:currentColor;font:4.2px sans-serif;text-anchor:middle}
.caution{border-left:3px solid var(--alert);padding-left:.7rem}
footer{margin-top:2rem;color:var(--quiet);font-size:.9rem}
.wide{overflow-x:auto}
@media(max-width:34rem){.plot{width:40rem}.staff{font-size:8.4mm}.controls{position:static}html{scroll-padding-top:1rem}.line{scroll-margin-top:1rem}.tools{margin-left:0}}
@media print{
@page{margin:14mm 15mm}
:root{--ink:#000;--paper:#fff;--quiet:#333;--rule:#bbb;--alert:#000;--accent:#000;--now:#000}
body{max-width:none;padding:0;font-size:10pt;background:none}
.controls,button,details,.screen,.doubts{display:none}
footer{font-size:8.5pt}h1{font-size:17pt}h2{font-size:12pt;margin:5mm 0 1mm;break-after:avoid}h3{font-size:11pt}
.line{break-inside:avoid;min-height:32mm;padding:1.5mm 0 1mm}.line.chosen{box-shadow:none}
.hand{margin:0}.staff{font-size:10mm}
.keyboard .cross{stroke:#000}.keyboard .on-black .cross{stroke:#fff}#scales{grid-template-columns:repeat(4,1fr);gap:4mm}.keyboard{width:100%}#scales li,.scales{break-inside:avoid}
}`;
