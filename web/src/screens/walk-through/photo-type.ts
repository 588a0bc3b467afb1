// Is this file a photo? Told by its first bytes, never by its name; the server looks again.
export const MOST_BYTES = 25 * 1024 * 1024;
const LONGEST_NAME = 120;
const HEIC = ['heic', 'heix', 'heim', 'heis', 'hevc', 'hevx', 'mif1', 'msf1'];

export async function photoType(file: Blob): Promise<{ type: string } | { wrong: 'wrong' | 'too_large' }> {
  const head = new Uint8Array(await file.slice(0, 12).arrayBuffer());
  const type = head.length < 12 ? null : told(head);
  if (type === null) return { wrong: 'wrong' };
  return file.size > MOST_BYTES ? { wrong: 'too_large' } : { type };
}

function told(head: Uint8Array): string | null {
  const text = (from: number, to: number) => String.fromCharCode(...head.slice(from, to));
  if (head[0] === 0xff && head[1] === 0xd8 && head[2] === 0xff) return 'image/jpeg';
  if (text(0, 8) === '\x89PNG\r\n\x1a\n') return 'image/png';
  if (text(0, 4) === 'RIFF' && text(8, 12) === 'WEBP') return 'image/webp';
  if (text(4, 8) === 'ftyp' && HEIC.includes(text(8, 12))) return 'image/heic';
  return null;
}

/** A name that the server takes: something to read in it, and not without end. */
export const isPhotoName = (name: string): boolean => name.length <= LONGEST_NAME && /[\p{L}\p{N}]/u.test(name);
