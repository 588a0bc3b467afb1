// Is this file a photo? Told by its first bytes, never by its name.
const MOST_BYTES = 25 * 1024 * 1024;

export async function photoType(file: Blob): Promise<string | null> {
  if (file.size === 0 || file.size > MOST_BYTES) return null;
  const head = new Uint8Array(await file.slice(0, 12).arrayBuffer());
  const text = (from: number, to: number) => String.fromCharCode(...head.slice(from, to));
  if (head[0] === 0xff && head[1] === 0xd8 && head[2] === 0xff) return 'image/jpeg';
  if (head[0] === 0x89 && text(1, 4) === 'PNG') return 'image/png';
  if (text(0, 4) === 'RIFF' && text(8, 12) === 'WEBP') return 'image/webp';
  if (text(4, 8) === 'ftyp' && ['heic', 'heix', 'hevc', 'mif1', 'msf1'].includes(text(8, 12))) return 'image/heic';
  return null;
}
