/** Four complex numbers at once. */
import { type Code, minus, mul, plus } from './assemble.js';

/** A complex number in two vectors, real and imaginary part. */
export type Complex = readonly [re: Code, im: Code];

export const sum = ([ar, ai]: Complex, [br, bi]: Complex): Complex => [plus(ar, br), plus(ai, bi)];
export const difference = ([ar, ai]: Complex, [br, bi]: Complex): Complex => [minus(ar, br), minus(ai, bi)];
export const product = ([ar, ai]: Complex, [br, bi]: Complex): Complex => [
  minus(mul(ar, br), mul(ai, bi)),
  plus(mul(ar, bi), mul(ai, br)),
];
/** a − j·b and a + j·b. */
export const minusTurned = ([ar, ai]: Complex, [br, bi]: Complex): Complex => [plus(ar, bi), minus(ai, br)];
export const plusTurned = ([ar, ai]: Complex, [br, bi]: Complex): Complex => [minus(ar, bi), plus(ai, br)];
