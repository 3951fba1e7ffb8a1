/** The 16-bit values of A-law and µ-law codes. Source: ITU-T G.711 (1988), tables 1 and 2. */

function aLaw(code: number): number {
  const value = code ^ 0x55;
  const segment = (value >> 4) & 7;
  const step = ((value & 15) << 4) + 8;
  const magnitude = segment === 0 ? step : (step + 0x100) << (segment - 1);
  return (value & 0x80) !== 0 ? magnitude : -magnitude;
}

/** 33 steps of 4: the bias of G.711 at 16 bits. */
const MU_LAW_BIAS = 132;

function muLaw(code: number): number {
  const value = ~code & 0xff;
  const magnitude = ((((value & 15) << 3) + MU_LAW_BIAS) << ((value >> 4) & 7)) - MU_LAW_BIAS;
  return (value & 0x80) !== 0 ? -magnitude : magnitude;
}

export const LAW_TABLES = {
  alaw: Int16Array.from({ length: 256 }, (_, code) => aLaw(code)),
  mulaw: Int16Array.from({ length: 256 }, (_, code) => muLaw(code)),
} as const;
