import { crc32 } from 'node:zlib'

/// A ZIP archive whose files lie in it as they are (PKWARE APPNOTE 6.3.10, sections 4.3.7, 4.3.12 and 4.3.16).
export function storedZip(files: Readonly<Record<string, string>>): Buffer {
  const bodies: Buffer[] = []
  const entries: Buffer[] = []
  let at = 0
  for (const [name, text] of Object.entries(files)) {
    const [path, data] = [Buffer.from(name), Buffer.from(text)]
    // Version 2.0, no flags, stored, the first day that a ZIP can say.
    const facts = Buffer.alloc(26)
    facts.writeUInt16LE(20, 0)
    facts.writeUInt16LE(0x21, 8)
    facts.writeUInt32LE(crc32(data), 10)
    facts.writeUInt32LE(data.length, 14)
    facts.writeUInt32LE(data.length, 18)
    facts.writeUInt16LE(path.length, 22)
    const place = Buffer.alloc(14)
    place.writeUInt32LE(at, 10)
    const body = Buffer.concat([Buffer.from('PK\x03\x04', 'latin1'), facts, path, data])
    entries.push(Buffer.concat([Buffer.from('PK\x01\x02\x14\x00', 'latin1'), facts, place, path]))
    bodies.push(body)
    at += body.length
  }
  const list = Buffer.concat(entries)
  const end = Buffer.alloc(18)
  end.writeUInt16LE(entries.length, 4)
  end.writeUInt16LE(entries.length, 6)
  end.writeUInt32LE(list.length, 8)
  end.writeUInt32LE(at, 12)
  return Buffer.concat([...bodies, list, Buffer.from('PK\x05\x06', 'latin1'), end])
}
