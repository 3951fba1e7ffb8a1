/** Times as people read them. */

/** Minutes and whole seconds, the nearest: 3:07. */
export function clock(seconds: number): string {
  const whole = Math.round(seconds);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
}

/** Minutes, seconds and tenths, the nearest: 0:04.2. */
export function clockTenths(seconds: number): string {
  const tenths = Math.round(seconds * 10);
  return `${clock(Math.floor(tenths / 10))}.${tenths % 10}`;
}
