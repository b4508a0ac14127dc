/** What lies in a ZIP archive whose files are stored as they are, read by APPNOTE 6.3 of PKWARE, from memory. */

const END = 0x06_05_4b_50;
const END_BYTES = 22;
const ENTRY = 0x02_01_4b_50;
const ENTRY_BYTES = 46;
const LOCAL_BYTES = 30;

/** The files of an archive by their names. */
export function unzipped(bytes: Buffer): Map<string, Buffer> {
  const end = bytes.length - END_BYTES;
  if (bytes.readUInt32LE(end) !== END) {
    throw new Error('the archive does not end as archives do');
  }
  const files = new Map<string, Buffer>();
  let at = bytes.readUInt32LE(end + 16);
  for (let left = bytes.readUInt16LE(end + 10); left > 0; left -= 1) {
    if (bytes.readUInt32LE(at) !== ENTRY || bytes.readUInt16LE(at + 10) !== 0) {
      throw new Error('an entry is missing, or packed');
    }
    const [length, nameBytes] = [bytes.readUInt32LE(at + 24), bytes.readUInt16LE(at + 28)];
    const local = bytes.readUInt32LE(at + 42);
    const body = local + LOCAL_BYTES + bytes.readUInt16LE(local + 26) + bytes.readUInt16LE(local + 28);
    const name = bytes.toString('utf8', at + ENTRY_BYTES, at + ENTRY_BYTES + nameBytes);
    files.set(name, bytes.subarray(body, body + length));
    at += ENTRY_BYTES + nameBytes + bytes.readUInt16LE(at + 30) + bytes.readUInt16LE(at + 32);
  }
  return files;
}
