/// Which packets of a film no other packet is decoded from. They can be left out on the way to a frame beyond them: in a film
/// with long groups that is up to half of what would be decoded.

type Packet = Uint8Array

/// Answers whether a packet holds nothing but non-reference pictures.
export type IsNonReference = (packet: Packet) => boolean

const never: IsNonReference = () => false

/// The question for a film coded as `config` says; where its packets cannot be read for it, each counts as referred to.
///
/// H.264 (ITU-T H.264, 7.4.1): `nal_ref_idc` 0 in every slice. HEVC (ITU-T H.265, 7.4.2.2): a sub-layer non-reference picture of
/// the highest sub-layer; of a lower one, pictures above it may still refer to it.
export function nonReferenceIn({ codec, description }: Pick<VideoDecoderConfig, 'codec' | 'description'>): IsNonReference {
  const record = description && bytesOf(description)
  if (!record) return never
  if (/^avc[13]\./.test(codec) && record.length > 4) return everySlice((record[4]! & 3) + 1, avcSlice)
  if (/^(hev1|hvc1)\./.test(codec) && record.length > 21)
    return everySlice((record[21]! & 3) + 1, (data, at) => hevcSlice(data, at, (record[21]! >> 3) & 7))
  return never
}

/// Null: not a slice. Else whether the slice is of a non-reference picture.
type ReadSlice = (packet: Packet, at: number) => boolean | null

function avcSlice(packet: Packet, at: number): boolean | null {
  const type = packet[at]! & 31
  return type < 1 || type > 5 ? null : (packet[at]! >> 5) % 4 === 0
}

function hevcSlice(packet: Packet, at: number, subLayers: number): boolean | null {
  const type = (packet[at]! >> 1) & 63
  if (type > 31) return null
  const sub = (packet[at + 1]! & 7) - 1
  return type < 16 && type % 2 === 0 && subLayers > 0 && sub === subLayers - 1
}

/// Over the units of a packet, each after its length in `lengthSize` bytes (ISO/IEC 14496-15).
function everySlice(lengthSize: number, slice: ReadSlice): IsNonReference {
  return (packet) => {
    let slices = 0
    for (let at = 0; at + lengthSize < packet.length;) {
      let length = 0
      for (let i = 0; i < lengthSize; i++) length = length * 256 + packet[at + i]!
      const read = slice(packet, at + lengthSize)
      if (read === false) return false
      if (read) slices++
      at += lengthSize + length
    }
    return slices > 0
  }
}

const bytesOf = (source: AllowSharedBufferSource): Uint8Array =>
  ArrayBuffer.isView(source) ? new Uint8Array(source.buffer, source.byteOffset, source.byteLength) : new Uint8Array(source)
