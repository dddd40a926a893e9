/// Head of a RIFF/WAVE file of 16-bit PCM, one channel (Multimedia Programming Interface and Data Specifications 1.0, 1991).
export const WAV_HEAD_BYTES = 44

export function wavHead(bytes: number, sampleRate: number): Buffer {
  const head = Buffer.alloc(WAV_HEAD_BYTES)
  head.write('RIFF', 0, 'latin1')
  head.writeUInt32LE(36 + bytes, 4)
  head.write('WAVEfmt ', 8, 'latin1')
  head.writeUInt32LE(16, 16)
  head.writeUInt16LE(1, 20)
  head.writeUInt16LE(1, 22)
  head.writeUInt32LE(sampleRate, 24)
  head.writeUInt32LE(sampleRate * 2, 28)
  head.writeUInt16LE(2, 32)
  head.writeUInt16LE(16, 34)
  head.write('data', 36, 'latin1')
  head.writeUInt32LE(bytes, 40)
  return head
}
