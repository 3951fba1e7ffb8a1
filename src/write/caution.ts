/** What a beginner should hear before practising: in these words wherever the program says it. */
export const CAUTION = "Rest often, and stop when it hurts. A teacher's advice comes first.";

/** The same where fingers are shown. */
export const FINGER_CAUTION = `${CAUTION} Hands differ: other fingers may suit you better.`;
