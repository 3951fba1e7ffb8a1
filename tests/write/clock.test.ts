import { expect, test } from 'vitest';
import { clock, clockTenths } from '../../src/write/clock.js';

test.each([
  [0, '0:00'],
  [9.4, '0:09'],
  [59.6, '1:00'],
  [187.4, '3:07'],
  [3600, '60:00'],
])('%d seconds are %s', (seconds, text) => {
  expect(clock(seconds)).toBe(text);
});

test.each([
  [0, '0:00.0'],
  [4.24, '0:04.2'],
  [59.94, '0:59.9'],
  [59.96, '1:00.0'],
  [83.5, '1:23.5'],
])('with tenths %d seconds are %s', (seconds, text) => {
  expect(clockTenths(seconds)).toBe(text);
});
