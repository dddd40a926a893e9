import { describe, expect, it } from 'vitest'
import { levelled, resampled, roomTone } from '../../../demo-data/narration/polish'
import { narrate } from '../../../demo-data/narration/narrate'
import { Speech } from '../../../demo-data/narration/speech'
import { hallSound } from '../../../demo-data/sound/hall-sound'
import { readWave, writeWave } from '../../../demo-data/sound/wave'

const level = (samples: Float32Array): number => 10 * Math.log10(samples.reduce((s, v) => s + v * v, 0) / samples.length)

describe('sound files', () => {
  it('come back as they were written, to a sixteenth bit', () => {
    const samples = Float32Array.from({ length: 999 }, (_, i) => Math.sin(i / 7) * 0.7)
    const read = readWave(writeWave({ rate: 48_000, samples }))
    expect(read.rate).toBe(48_000)
    read.samples.forEach((v, i) => expect(Math.abs(v - samples[i]!)).toBeLessThan(1e-4))
  })

  it("keep a tone's pitch and height when brought to 48 kHz", () => {
    const tone = Float32Array.from({ length: 16_000 }, (_, n) => 0.5 * Math.sin((2 * Math.PI * 1000 * n) / 16_000))
    const out = resampled({ rate: 16_000, samples: tone })
    expect(out).toHaveLength(48_000)
    for (let n = 6000; n < 42_000; n += 13) expect(Math.abs(out[n]! - 0.5 * Math.sin((2 * Math.PI * 1000 * n) / 48_000))).toBeLessThan(0.01)
  })

  it('level a voice below −6 dBFS whatever comes in', () => {
    const loud = Float32Array.from(
      { length: 48_000 },
      (_, n) => 0.9 * Math.sin((2 * Math.PI * 300 * n) / 48_000) * (n % 9600 < 4800 ? 1 : 0.05),
    )
    const out = levelled(loud)
    expect(Math.max(...out.map(Math.abs))).toBeLessThan(10 ** (-6 / 20))
    expect(level(out)).toBeGreaterThan(-30)
  })

  it('have a room tone below −60 dBFS, and a hall that is heard with its thud', () => {
    expect(level(roomTone(48_000, 3))).toBeLessThan(-60)
    const hall = hallSound(1, [{ at: 0.5, level: 0.6 }], 3)
    expect(level(hall.samples.subarray(0, 20_000))).toBeLessThan(level(hall.samples.subarray(24_000, 28_000)) - 12)
  })
})

describe('reading aloud', () => {
  it('finds the onset of each cue between the words around it', async () => {
    const speech = await Speech.open()
    try {
      const text = (word: string): Parameters<typeof narrate>[0] => ({
        id: 'p',
        text: ['The hips turn, the shoulders follow, and at ', { cue: 'e1', word }, ' the knee is straight.'],
      })
      const take = await narrate(text('contact'), new Map(), speech, 1)
      const seconds = take.wave.samples.length / take.wave.rate
      expect(take.cues).toHaveLength(1)
      expect(take.cues[0]!.seconds).toBeGreaterThan(0.45 * seconds)
      expect(take.cues[0]!.seconds).toBeLessThan(0.8 * seconds)
      const again = await narrate(text('contact'), new Map(), speech, 1)
      expect(Buffer.compare(Buffer.from(take.wave.samples.buffer), Buffer.from(again.wave.samples.buffer))).toBe(0)
    } finally {
      await speech.close()
    }
  }, 30_000)
})
