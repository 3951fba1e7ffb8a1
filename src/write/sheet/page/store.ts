/** The lines that were ticked off, kept in the browser. */

export interface Store {
  readonly read: () => Set<number>;
  /** False where the browser keeps nothing. */
  readonly write: (learnt: ReadonlySet<number>) => boolean;
}

export function createStore(songId: string): Store {
  const name = `cantilena-sheet-${songId}`;
  return {
    read: () => {
      try {
        const kept: unknown = JSON.parse(localStorage.getItem(name) ?? '[]');
        return new Set(Array.isArray(kept) ? kept.filter((n): n is number => typeof n === 'number') : []);
      } catch {
        return new Set();
      }
    },
    write: (learnt) => {
      try {
        localStorage.setItem(name, JSON.stringify([...learnt].sort((a, b) => a - b)));
        return true;
      } catch {
        return false;
      }
    },
  };
}
