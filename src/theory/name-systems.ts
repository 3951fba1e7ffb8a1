/** Systems in which notes are named for people; apart from the naming, because its tables take time to load. */

/** English; German (H and B, Fis, Es); solfège with a fixed do; degrees of the major scale on the key's tonic. */
export const NAME_SYSTEMS = ['english', 'german', 'solfège', 'degrees'] as const;

export type NameSystem = (typeof NAME_SYSTEMS)[number];

/** A system by its name, `solfege` without the accent too; null when there is none such. */
export function nameSystemOf(text: string): NameSystem | null {
  const word = text.toLowerCase().normalize('NFC');
  return (
    NAME_SYSTEMS.find((system) => system === word || (system === 'solfège' && word === 'solfege')) ?? null
  );
}
