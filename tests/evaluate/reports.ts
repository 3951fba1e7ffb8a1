/** The tables that `--only` names by a word of its own: what is scored beside the recordings' notes and pitch. */
import { beatsReport } from './beats/beats-report.js';
import { compareReport } from './compare/report.js';
import { fingeringReport } from './fingering/report.js';
import { gradeReport } from './grade/report.js';
import { guideReport } from './guide/report.js';
import { regionsReport } from './keys/regions.js';
import { keysReport } from './keys/report.js';
import { linesReport } from './lines/report.js';
import { liveReport } from './live/report.js';
import { rhythmReport } from './rhythm/heard.js';
import { performedReport } from './rhythm/performed.js';

export const REPORT_NAMES = [
  'rhythm',
  'lines',
  'performed',
  'keys',
  'regions',
  'guide',
  'grade',
  'compare',
  'live',
  'beats',
  'fingering',
] as const;
export type ReportName = (typeof REPORT_NAMES)[number];

interface Report {
  /** What it needs under DIR, said where that is absent. */
  readonly needs: string;
  /** The table as text; null where what it needs is absent. */
  readonly of: (root: string) => string | null | Promise<string | null>;
}

const REPORTS: Readonly<Record<ReportName, Report>> = {
  rhythm: { needs: 'made (rhythm)', of: rhythmReport },
  lines: { needs: 'phrases or made (lines)', of: linesReport },
  performed: { needs: 'phrases (performed)', of: performedReport },
  keys: { needs: 'keys (keys)', of: keysReport },
  regions: { needs: 'keys (regions)', of: regionsReport },
  fingering: { needs: 'fingering (fingering)', of: fingeringReport },
  beats: { needs: 'made with known beats (beats)', of: beatsReport },
  grade: { needs: 'made, keys or phrases (grade)', of: gradeReport },
  guide: { needs: 'made (guide)', of: guideReport },
  compare: { needs: 'made or singing/ssvd (compare)', of: compareReport },
  live: { needs: 'recordings of one voice or piano (live)', of: liveReport },
};

export function isReportName(word: string): word is ReportName {
  return (REPORT_NAMES as readonly string[]).includes(word);
}

/** Where the tables go, and the sentences beside them. */
export interface Output {
  readonly print: (table: string) => void;
  readonly warn: (sentence: string) => void;
}

/** Prints each table as soon as it is there, and says which are skipped or failed; how many of them printed, failed. */
export async function printReports(
  root: string,
  names: readonly ReportName[],
  { print, warn }: Output,
): Promise<{ printed: number; failed: number }> {
  let printed = 0;
  let failed = 0;
  for (const name of names) {
    try {
      const table = await REPORTS[name].of(root);
      if (table === null) {
        warn(`skipped: ${root} has no ${REPORTS[name].needs}`);
        continue;
      }
      print(table);
      printed++;
    } catch (error) {
      failed++;
      warn(`failed: ${name}: ${error instanceof Error ? error.message : String(error)}`);
    }
  }
  return { printed, failed };
}
