/** The parts of onnxruntime-node 1.17.0 that are used; its package declares no types. */
declare module 'onnxruntime-node' {
  type Engine = import('./session.js').Engine;
  export const Tensor: Engine['Tensor'];
  export const InferenceSession: Engine['InferenceSession'];
}
