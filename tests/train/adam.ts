/** Adam (Kingma & Ba 2015, algorithm 1), with the paper's constants. */
const BETA_1 = 0.9;
const BETA_2 = 0.999;
const EPSILON = 1e-8;

export interface Adam {
  /** Moves the parameters in place against a gradient of their shape, by about `rate` each. */
  step(gradients: readonly Float32Array[], rate: number): void;
}

export function createAdam(parameters: readonly Float32Array[]): Adam {
  const means = parameters.map((p) => new Float32Array(p.length));
  const squares = parameters.map((p) => new Float32Array(p.length));
  let steps = 0;
  return {
    step(gradients, rate) {
      steps++;
      const meanScale = 1 / (1 - BETA_1 ** steps);
      const squareScale = 1 / (1 - BETA_2 ** steps);
      parameters.forEach((parameter, p) => {
        const [gradient, mean, square] = [gradients[p], means[p], squares[p]];
        for (let k = 0; k < parameter.length; k++) {
          const g = gradient[k];
          mean[k] = BETA_1 * mean[k] + (1 - BETA_1) * g;
          square[k] = BETA_2 * square[k] + (1 - BETA_2) * g * g;
          parameter[k] -= (rate * mean[k] * meanScale) / (Math.sqrt(square[k] * squareScale) + EPSILON);
        }
      });
    },
  };
}
