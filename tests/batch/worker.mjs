/** Stands in for the program's worker: what a song is called says what becomes of it. */
export default async function hear({ song, options }) {
  if (song.name.includes('dies')) {
    process.kill(process.pid, 'SIGKILL');
    await new Promise((resolve) => setTimeout(resolve, 5000));
  }
  if (song.name.includes('throws')) throw new Error('out of order');
  await new Promise((resolve) => setTimeout(resolve, options.milliseconds));
  return { kind: 'heard', song: { name: song.name, status: 'done', warnings: process.execArgv } };
}
