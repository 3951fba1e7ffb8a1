/** Why the operating system refused, in words: code of its error → end of a sentence. */
const REASONS: Readonly<Record<string, string>> = {
  EACCES: 'permission is denied',
  EBUSY: 'it is in use',
  EEXIST: 'something of that name is there',
  EDQUOT: 'your share of the disk is full',
  EFBIG: 'it would be too large',
  EIO: 'the disk reports an error',
  EISDIR: 'it is a folder',
  ELOOP: 'its links lead in a circle',
  EMFILE: 'too many files are open',
  ENAMETOOLONG: 'its name is too long',
  ENOENT: 'it is not there',
  ENOSPC: 'the disk is full',
  ENOTDIR: 'a part of its path is not a folder',
  EPERM: 'you may not do that',
  EROFS: 'it lies on a disk that is read-only',
  ETXTBSY: 'it is in use',
};

/** The code of a system error, such as ENOENT; null for anything else that was thrown. */
export function systemCode(error: unknown): string | null {
  const code = error instanceof Error ? (error as NodeJS.ErrnoException).code : undefined;
  return typeof code === 'string' && /^E[A-Z0-9]+$/.test(code) ? code : null;
}

/** Words for a system error; errors of other kinds are thrown on, because they are defects. */
export function systemReason(error: unknown): string {
  const code = systemCode(error);
  if (code === null) throw error;
  return REASONS[code] ?? `the system reports ${code}`;
}
