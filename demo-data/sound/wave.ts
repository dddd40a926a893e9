/// Mono 16-bit PCM in a WAVE file.

export interface Wave {
  readonly rate: number
  /// −1 … 1.
  readonly samples: Float32Array
}

export function writeWave({ rate, samples }: Wave): Buffer {
  const out = Buffer.alloc(44 + samples.length * 2)
  out.write('RIFF', 0, 'latin1')
  out.writeUInt32LE(36 + samples.length * 2, 4)
  out.write('WAVEfmt ', 8, 'latin1')
  out.writeUInt32LE(16, 16)
  out.writeUInt16LE(1, 20)
  out.writeUInt16LE(1, 22)
  out.writeUInt32LE(rate, 24)
  out.writeUInt32LE(rate * 2, 28)
  out.writeUInt16LE(2, 32)
  out.writeUInt16LE(16, 34)
  out.write('data', 36, 'latin1')
  out.writeUInt32LE(samples.length * 2, 40)
  samples.forEach((s, i) => out.writeInt16LE(Math.round(Math.max(-1, Math.min(1, s)) * 32767), 44 + i * 2))
  return out
}

/// Reads what `writeWave` writes, and other mono 16-bit files. Throws on anything else.
export function readWave(bytes: Buffer): Wave {
  if (bytes.toString('latin1', 0, 4) !== 'RIFF' || bytes.toString('latin1', 8, 12) !== 'WAVE') throw new RangeError('not a WAVE file')
  let rate = 0
  for (let at = 12; at + 8 <= bytes.length;) {
    const name = bytes.toString('latin1', at, at + 4)
    const size = Math.min(bytes.readUInt32LE(at + 4), bytes.length - at - 8)
    if (name === 'fmt ') {
      if (bytes.readUInt16LE(at + 8) !== 1 || bytes.readUInt16LE(at + 10) !== 1 || bytes.readUInt16LE(at + 22) !== 16)
        throw new RangeError('not mono 16-bit sound')
      rate = bytes.readUInt32LE(at + 12)
    } else if (name === 'data') {
      const samples = new Float32Array(size >> 1)
      for (let i = 0; i < samples.length; i++) samples[i] = bytes.readInt16LE(at + 8 + i * 2) / 32768
      return { rate, samples }
    }
    at += 8 + size + (size & 1)
  }
  throw new RangeError('a WAVE file without sound')
}
