/** Right-hand finger: 1 thumb … 5 little finger. */
export type Finger = 1 | 2 | 3 | 4 | 5;

/** Hand size, which changes how far two fingers reach. */
export type HandSize = 'small' | 'medium' | 'large';
