/** Lines ticked off as learnt, and what comes next. */
import type { Song } from '../page-data.js';
import { nextStep } from './next-step.js';
import { createStore } from './store.js';

/** Sets the ticks that were kept, and keeps new ones. */
export function followProgress(song: Song): void {
  const store = createStore(song.id);
  const learnt = store.read();
  const ticks = [...document.querySelectorAll<HTMLInputElement>('.learnt')];
  const count = document.getElementById('learnt-count')!;
  const next = document.getElementById('next')!;
  const tell = (kept: boolean) => {
    const { words, line } = nextStep(song.lines, learnt);
    count.textContent = `${learnt.size} of ${song.lines.length} lines learnt.`;
    next.replaceChildren(words);
    if (line !== null) {
      const link = document.createElement('a');
      link.href = `#line-${line}`;
      link.textContent = `Go to line ${line}`;
      next.append(' ', link);
    }
    if (!kept) next.append(' This browser does not keep the ticks.');
  };
  for (const number of learnt) if (number > song.lines.length) learnt.delete(number);
  for (const tick of ticks) {
    const number = Number(tick.dataset.line);
    const mark = () => tick.closest('.line')!.classList.toggle('done', tick.checked);
    tick.checked = learnt.has(number);
    mark();
    tick.addEventListener('change', () => {
      if (tick.checked) learnt.add(number);
      else learnt.delete(number);
      mark();
      tell(store.write(learnt));
    });
  }
  tell(true);
}
