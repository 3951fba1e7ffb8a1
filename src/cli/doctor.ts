/** The command `doctor`: what is there on this system, what is missing, and whether it works. */
import { createRequire } from 'node:module';
import { decodeRecording } from '../audio/decode.js';
import { encodeMp3 } from '../audio/write-mp3.js';
import { EXIT } from '../errors.js';
import { loadNetwork } from '../pitch/network/session.js';
import { wrap } from '../write/screen/wrap.js';
import { startEngraver } from '../write/sheet/engrave.js';
import { columnsOf } from './columns.js';
import type { Context } from './context.js';
import {
  type Check,
  checkDecoders,
  checkEngraver,
  checkNetworks,
  checkNode,
  checkPackages,
  checkRecorder,
  smallSounds,
} from './doctor-checks.js';
import type { DoctorPlan } from './doctor-options.js';
import { createSpeech } from './say.js';

/** Rate at which the encoder is tried, in hertz, and seconds of silence that it gets. */
const MP3_RATE = 44_100;
const MP3_SECONDS = 0.2;

/** @returns the exit status: 1 where something is missing that is needed */
export async function runDoctor({ json }: DoctorPlan, context: Context): Promise<number> {
  const checks: Check[] = [];
  const tell = async (...found: readonly Check[]) => {
    checks.push(...found);
    if (json) return;
    const { stdout } = context.streams;
    for (const check of found) {
      const lines =
        stdout.isTTY === true ? wrap(checkLine(check), columnsOf(stdout), '', '  ') : [checkLine(check)];
      await speech.result(`${lines.join('\n')}\n`);
    }
  };
  const speech = createSpeech(context, false);
  const { engines, version } = createRequire(import.meta.url)('../../package.json') as {
    engines: { node: string };
    version: string;
  };
  await tell(await checkNode(process.versions.node, engines.node));
  const networks = await checkNetworks(loadNetwork);
  await tell(networks);
  const silence = new Float32Array(MP3_RATE * MP3_SECONDS);
  const mp3 = await encodeMp3([silence], MP3_RATE).catch(() => new Uint8Array());
  await tell(await checkDecoders({ MP3: mp3, ...smallSounds() }, decodedSeconds));
  await tell(await checkEngraver(startEngraver));
  await tell(await checkRecorder(context));
  const packages = await checkPackages(() => import('./doctor-self-test.js'));
  await tell(packages);
  if (packages.status === 'ok' && networks.status === 'ok') {
    const { checkMix, checkSolo } = await import('./doctor-self-test.js');
    await tell(...(await checkSolo()));
    await tell(await checkMix());
  }
  const ok = checks.every(({ status, needed }) => status === 'ok' || !needed);
  if (json) await speech.result(`${JSON.stringify({ ok, version, checks }, null, 2)}\n`);
  return ok ? EXIT.done : EXIT.someFailed;
}

async function decodedSeconds(bytes: Uint8Array, label: string): Promise<number> {
  return (await decodeRecording(bytes, label)).source.seconds;
}

/** `ok` or `missing`, what was looked at, and what there is to say. */
export function checkLine({ status, name, words }: Check): string {
  return status === 'ok' ? `ok: ${name}: ${words}` : `missing: ${name}: ${words}`;
}
