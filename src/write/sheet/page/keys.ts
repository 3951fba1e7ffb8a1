/** The song in its keys, which lie in the page in compressed form, and are unpacked when they are wanted. */
import type { Song, SongInKey } from '../page-data.js';

export interface Keys {
  /** @param index in the song's list of keys */
  readonly load: (index: number) => Promise<SongInKey>;
}

export function createKeys(song: Song): Keys {
  const loaded = new Map<number, Promise<SongInKey>>();
  return {
    load: (index) => {
      const known = loaded.get(index);
      if (known !== undefined) return known;
      const loading = unpack(`key${song.keys[index]!.semitones}`);
      loaded.set(index, loading);
      return loading;
    },
  };
}

async function unpack(id: string): Promise<SongInKey> {
  const bytes = bytesIn(id);
  const plain = new Blob([bytes]).stream().pipeThrough(new DecompressionStream('gzip'));
  return (await new Response(plain).json()) as SongInKey;
}

/** The bytes that an element of the page holds in base64. */
export function bytesIn(id: string): Uint8Array<ArrayBuffer> {
  const text = atob(document.getElementById(id)!.textContent!.trim());
  return Uint8Array.from(text, (letter) => letter.charCodeAt(0));
}
