import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { LoudnessFigures } from '../../app/render/loudness-text'
import type { FfmpegTool } from '../../main/media/find-ffmpeg'
import { measureLoudness } from '../../main/media/loudness'
import { integratedLoudness, truePeak } from '../bs1770'
import { builds } from '../ffmpeg-builds'
import { RATE, speechLike, writeWav } from '../sound-signals'

let folder = ''
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'claimframe-loudness-'))
})
afterAll(() => rm(folder, { recursive: true, force: true }))

const meter = (tool: FfmpegTool, name: string): Promise<LoudnessFigures> => measureLoudness(tool, join(folder, name), { what: name })

/// Sine stretches [seconds, dBFS], one after another.
function tones(parts: readonly (readonly [seconds: number, dbfs: number])[], hertz = 1000): Float32Array {
  const out = new Float32Array(Math.round(parts.reduce((sum, [seconds]) => sum + seconds, 0) * RATE))
  let at = 0
  for (const [seconds, dbfs] of parts)
    for (let end = at + Math.round(seconds * RATE); at < end; at++)
      out[at] = 10 ** (dbfs / 20) * Math.sin((2 * Math.PI * hertz * at) / RATE)
  return out
}

/// Signals after EBU Tech 3341's minimum requirements, cases 1–5 (from memory [M]; stereo, ±0.1 LU), and
/// the stereo and mono cases computed from the formulas.
const CASES: readonly {
  readonly name: string
  readonly parts: readonly (readonly [number, number])[]
  readonly mono?: true
  readonly hertz?: number
  readonly expected: number
}[] = [
  { name: 'case 1: −23 for 20 s', parts: [[20, -23]], expected: -23 },
  { name: 'case 2: −33 for 20 s', parts: [[20, -33]], expected: -33 },
  {
    name: 'case 3: relative gate',
    parts: [
      [10, -36],
      [60, -23],
      [10, -36],
    ],
    expected: -23,
  },
  {
    name: 'case 4: absolute gate',
    parts: [
      [10, -72],
      [10, -36],
      [60, -23],
      [10, -36],
      [10, -72],
    ],
    expected: -23,
  },
  {
    name: 'case 5: −26, −20, −26',
    parts: [
      [20, -26],
      [20.1, -20],
      [20, -26],
    ],
    expected: -23,
  },
  { name: 'mono 997 Hz at full scale', parts: [[5, 0]], mono: true, hertz: 997, expected: -3 },
]

/// True-peak signals after Tech 3341 cases 15–19 [M]: a sine whose samples miss its peak; tolerance +0.2/−0.4 dB.
const PEAKS = [
  { divisor: 4, phase: 0, level: 0.5, expected: -6 },
  { divisor: 4, phase: 45, level: 0.5, expected: -6 },
  { divisor: 6, phase: 60, level: 0.5, expected: -6 },
  { divisor: 8, phase: 67.5, level: 0.5, expected: -6 },
  { divisor: 4, phase: 45, level: Math.SQRT2, expected: 3 },
] as const

describe.each(builds)('the meter of $name', ({ tool }) => {
  it.each(CASES)('reads $name within ±0.1 LU', async ({ name, parts, mono, hertz, expected }) => {
    const file = `${name.replace(/\W+/g, '-')}.wav`
    const sound = tones(parts, hertz)
    await writeWav(join(folder, file), mono ? [sound] : [sound, sound])
    expect(Math.abs((await meter(await tool(), file)).integrated - expected)).toBeLessThanOrEqual(0.1)
  })
  it.each(PEAKS)('reads the true peak of a sine at a rate of 1/$divisor, phase $phase', async ({ divisor, phase, level, expected }) => {
    const file = `peak-${divisor}-${phase}-${level}.wav`
    const fade = 4800
    const sound = Float32Array.from(
      { length: RATE },
      (_, i) => level * Math.min(1, i / fade, (RATE - i) / fade) * Math.sin((2 * Math.PI * i) / divisor + (phase * Math.PI) / 180),
    )
    await writeWav(join(folder, file), [sound, sound])
    const { truePeak: peak } = await meter(await tool(), file)
    expect(peak).toBeLessThanOrEqual(expected + 0.2)
    expect(peak).toBeGreaterThanOrEqual(expected - 0.4)
  })
  it('agrees with a meter written from the standard, on something like speech', async () => {
    const [left, right] = [speechLike(12, 0.4, 1), speechLike(12, 0.3, 2)]
    await writeWav(join(folder, 'speech.wav'), [left, right])
    const figures = await meter(await tool(), 'speech.wav')
    expect(Math.abs(figures.integrated - integratedLoudness([left, right]))).toBeLessThanOrEqual(0.1)
    expect(Math.abs(figures.truePeak - truePeak([left, right]))).toBeLessThanOrEqual(0.2)
  })
  it('calls silence −∞', async () => {
    await writeWav(join(folder, 'silence.wav'), [new Float32Array(RATE)])
    expect(await meter(await tool(), 'silence.wav')).toEqual({ integrated: -Infinity, momentaryMost: -Infinity, truePeak: -Infinity })
  })
})
