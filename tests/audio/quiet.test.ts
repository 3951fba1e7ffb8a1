import { expect, test, vi } from 'vitest';
import { quietly } from '../../src/audio/quiet.js';

test('the console is silent during the work, and itself again afterwards, also after an error', () => {
  const spies = (['log', 'info', 'warn', 'error'] as const).map((name) =>
    vi.spyOn(console, name).mockReturnValue(),
  );
  const shout = () => {
    console.log('a');
    console.info('b');
    console.warn('c');
    console.error('d');
    return 1;
  };
  expect(quietly(shout)).toBe(1);
  expect(() =>
    quietly(() => {
      shout();
      throw new Error('damaged');
    }),
  ).toThrow('damaged');
  for (const spy of spies) expect(spy).not.toHaveBeenCalled();
  shout();
  for (const spy of spies) {
    expect(spy).toHaveBeenCalledTimes(1);
    spy.mockRestore();
  }
});
