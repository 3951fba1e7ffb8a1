/** A buffer that can be shrunk (ECMAScript 2024, in Node since 20); the types of the language we compile for lack them. */
export interface Shrinkable extends ArrayBuffer {
  resize(bytes: number): void;
}
const ShrinkableBuffer = ArrayBuffer as unknown as new (
  bytes: number,
  options: { maxByteLength: number },
) => Shrinkable;

/**
 * A buffer whose memory goes back to the system at once when it is resized to 0. That of others goes back some time after
 * nobody knows them any more, and in part never, where smaller things lie between them.
 */
export function shrinkable(bytes: number): Shrinkable {
  return new ShrinkableBuffer(bytes, { maxByteLength: bytes });
}
