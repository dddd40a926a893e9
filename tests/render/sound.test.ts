import { mkdtemp, readdir, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { LOUDNESS, type SoundPlan } from '../../app/render/sound-plan'
import { encodedArguments } from '../../app/render/sound-mix'
import { mixSound } from '../../main/render/sound'
import { runFfmpeg } from '../../main/media/process'
import { integratedLoudness, kGain, truePeak } from '../bs1770'
import { builds, decodeSound } from '../ffmpeg-builds'
import { noise, RATE, sine, speechLike, withPeaks, writeWav } from '../sound-signals'

const FADE = 720
const SECONDS = 9
const HALL_HERTZ = 9000
const HALL_STARTS = 1.5

let folder = ''
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'claimframe-sound-'))
  await writeWav(join(folder, 'one.wav'), [speechLike(3, 0.5, 1)])
  await writeWav(join(folder, 'two.wav'), [speechLike(2, 0.2, 2)])
  await writeWav(join(folder, 'quiet-one.wav'), [speechLike(3, 0.01, 3)])
  await writeWav(join(folder, 'quiet-two.wav'), [speechLike(2, 0.005, 4)])
  await writeWav(join(folder, 'hot-one.wav'), [withPeaks(speechLike(3, 0.3, 5), 1, 6)])
  await writeWav(join(folder, 'hot-two.wav'), [withPeaks(speechLike(2, 0.3, 7), 1, 8)])
  await writeWav(join(folder, 'tone.wav'), [noise(1.7, 0.01, 9)])
  const hall = sine(20, HALL_HERTZ, 0.5)
  hall.fill(0, 0, HALL_STARTS * RATE)
  await writeWav(join(folder, 'hall.wav'), [hall, hall])
}, 60_000)
afterAll(() => rm(folder, { recursive: true, force: true }))

/// Two takes, at 1–4 s and 6–8 s of a film of 9 s.
function plan(one: string, two: string, more: Partial<SoundPlan> = {}): SoundPlan {
  const take = (paragraph: string, name: string, at: number, seconds: number): SoundPlan['takes'][number] => ({
    paragraph,
    file: join(folder, name),
    startSeconds: 0,
    at: at * RATE,
    samples: seconds * RATE,
    fadeIn: FADE,
    fadeOut: FADE,
  })
  return {
    samples: SECONDS * RATE,
    takes: [take('p1', one, 1, 3), take('p2', two, 6, 2)],
    roomTone: null,
    hall: [],
    target: LOUDNESS['-14'],
    ...more,
  }
}

const gap = (from: number, to: number): { at: number; samples: number; fadeIn: number; fadeOut: number } => ({
  at: from * RATE - (from > 0 ? FADE : 0),
  samples: (to - from) * RATE + (from > 0 ? FADE : 0) + (to < SECONDS ? FADE : 0),
  fadeIn: from > 0 ? FADE : 0,
  fadeOut: to < SECONDS ? FADE : 0,
})
const roomTone = (): SoundPlan['roomTone'] => ({ file: join(folder, 'tone.wav'), gaps: [gap(0, 1), gap(4, 6), gap(8, 9)] })
const hall = (): SoundPlan['hall'] => [
  { file: join(folder, 'hall.wav'), startSeconds: HALL_STARTS, at: 2 * RATE, samples: 5 * RATE, fadeIn: 1440, fadeOut: 1440 },
]

const MIXES: readonly { readonly name: string; readonly of: () => SoundPlan }[] = [
  { name: 'speech only', of: () => plan('one.wav', 'two.wav') },
  { name: 'speech with the hall under it', of: () => plan('one.wav', 'two.wav', { hall: hall(), roomTone: roomTone() }) },
  { name: 'quiet speech', of: () => plan('quiet-one.wav', 'quiet-two.wav') },
  { name: 'hot speech with peaks', of: () => plan('hot-one.wav', 'hot-two.wav') },
  { name: 'hot speech for broadcast', of: () => plan('hot-one.wav', 'hot-two.wav', { target: LOUDNESS['-23'] }) },
]

/// Amplitude of one frequency in a stretch.
function amplitude(samples: Float32Array, hertz: number, start: number, end: number): number {
  const [from, to] = [Math.round(start), Math.round(end)]
  let [re, im] = [0, 0]
  for (let i = from; i < to; i++) {
    re += samples[i]! * Math.cos((2 * Math.PI * hertz * i) / RATE)
    im += samples[i]! * Math.sin((2 * Math.PI * hertz * i) / RATE)
  }
  return (2 * Math.hypot(re, im)) / (to - from)
}

const rms = (samples: Float32Array, from: number, to: number): number =>
  Math.sqrt(samples.subarray(Math.round(from), Math.round(to)).reduce((sum, x) => sum + x * x, 0) / (to - from))

describe.each(builds)('the mix made by $name', ({ name: build, tool }) => {
  const out = (name: string): string => join(folder, `${build}-${name}.flac`.replace(/[^\w.]+/g, '-'))

  it.each(MIXES)('$name: is on its loudness, holds its peaks through AAC, and is exactly as long as the film', async ({ name, of }) => {
    const ffmpeg = await tool()
    const wanted = of()
    const file = out(name)
    const report = await mixSound(ffmpeg, wanted, file)
    const mix = await decodeSound(ffmpeg, file, 2)
    expect(mix.map((channel) => channel.length)).toEqual([wanted.samples, wanted.samples])
    const encoded = `${file}.mp4`
    await runFfmpeg(ffmpeg, encodedArguments(file, encoded))
    const delivered = await decodeSound(ffmpeg, encoded, 2)
    // The figures are those of the tests' own meter, not of the mixer. What counts is what is delivered: in a
    // film of 9 s the encoder's shift of a few milliseconds moves blocks over the gate.
    expect(Math.abs(integratedLoudness(mix) - wanted.target.integrated)).toBeLessThanOrEqual(0.5)
    expect(Math.abs(integratedLoudness(delivered) - wanted.target.integrated)).toBeLessThanOrEqual(0.25)
    expect(truePeak(mix)).toBeLessThanOrEqual(wanted.target.ceiling + 0.1)
    expect(truePeak(delivered)).toBeLessThanOrEqual(wanted.target.truePeak)
    expect(Math.abs(report.encoded.integrated - integratedLoudness(delivered))).toBeLessThanOrEqual(0.1)
  })

  it('levels the takes to each other within 1 LU', async () => {
    const file = out('levels')
    await mixSound(await tool(), plan('one.wav', 'two.wav', { target: LOUDNESS['-23'] }), file)
    const [left] = (await decodeSound(await tool(), file, 2)) as [Float32Array]
    const [one, two] = [left.slice(RATE, 4 * RATE), left.slice(6 * RATE, 8 * RATE)].map((take) => integratedLoudness([take])) as [
      number,
      number,
    ]
    expect(Math.abs(one - two)).toBeLessThan(1)
  })

  it('keeps the hall 20 LU or more under the narration, starts it at its moment, and mutes it elsewhere', async () => {
    const file = out('hall')
    const report = await mixSound(await tool(), plan('one.wav', 'two.wav', { hall: hall() }), file)
    const mix = await decodeSound(await tool(), file, 2)
    const left = mix[0]!
    const narration = integratedLoudness([...mix])
    const hallLoudness = (from: number, to: number): number =>
      -0.691 + 10 * Math.log10(2 * ((kGain(HALL_HERTZ) * amplitude(left, HALL_HERTZ, from, to)) ** 2 / 2))
    for (const at of [2.2, 2.8, 3.4, 6.1, 6.5]) expect(narration - hallLoudness(at * RATE, (at + 0.4) * RATE)).toBeGreaterThanOrEqual(20)
    expect(report.hallBelow).toBeGreaterThanOrEqual(20)
    // It is there: in the gap between the takes it alone sounds. Its file is silent up to its moment.
    const there = amplitude(left, HALL_HERTZ, 4.5 * RATE, 5.5 * RATE)
    expect(there).toBeGreaterThan(0.003)
    expect(rms(left, 4.5 * RATE, 5.5 * RATE)).toBeLessThan(there)
    expect(amplitude(left, HALL_HERTZ, 2.03 * RATE, 2.1 * RATE)).toBeGreaterThan(0.8 * there)
    expect(amplitude(left, HALL_HERTZ, 1.5 * RATE, 1.99 * RATE)).toBeLessThan(0.02 * there)
    expect(rms(left, 8.1 * RATE, 9 * RATE)).toBe(0)
  })

  it('fills every gap with room tone at one level, without a seam, and none with digital silence', async () => {
    const file = out('tone')
    await mixSound(await tool(), plan('one.wav', 'two.wav', { roomTone: roomTone() }), file)
    const [left] = (await decodeSound(await tool(), file, 2)) as [Float32Array]
    const windows = [0, 0.2, 0.5, 0.8, 4.1, 4.4, 4.7, 5, 5.3, 5.6, 5.8, 8.1, 8.4, 8.7, 8.9].map(
      (at) => 20 * Math.log10(rms(left, Math.round(at * RATE), Math.round((at + 0.1) * RATE))),
    )
    expect(Math.max(...windows) - Math.min(...windows)).toBeLessThan(3)
    let run = 0
    let longest = 0
    for (const [from, to] of [
      [0, 1],
      [4, 6],
      [8, 9],
    ] as const) {
      for (let i = from * RATE; i < to * RATE; i++) longest = Math.max(longest, (run = left[i] === 0 ? run + 1 : 0))
    }
    expect(longest).toBeLessThan(48)
  })

  it('puts 200 takes on their exact samples', async () => {
    const ffmpeg = await tool()
    const [length, step] = [0.25 * RATE, 0.3 * RATE]
    const click = (i: number): number => 2000 + ((i * 37) % 8000)
    const takes = await Promise.all(
      Array.from({ length: 200 }, async (_, i) => {
        const path = join(folder, `click-${i}.wav`)
        const sound = sine(0.25, 300, 0.06)
        sound[click(i)] = 0.8
        await writeWav(path, [sound])
        return {
          paragraph: `p${i}`,
          file: path,
          startSeconds: 0,
          at: 100 + i * step + (i % 7),
          samples: length,
          fadeIn: FADE,
          fadeOut: FADE,
        }
      }),
    )
    const file = out('many')
    const report = await mixSound(ffmpeg, { samples: 200 * step + 1001, takes, roomTone: null, hall: [], target: LOUDNESS['-23'] }, file)
    const [left] = (await decodeSound(ffmpeg, file, 2)) as [Float32Array]
    expect(left.length).toBe(200 * step + 1001)
    expect(report.limited).toBe(true)
    const found = takes.map(({ at }) => {
      let most = at
      for (let i = at; i < at + length; i++) if (Math.abs(left[i]!) > Math.abs(left[most]!)) most = i
      return most - at
    })
    expect(found).toEqual(takes.map((_, i) => click(i)))
  })

  it('leaves a film without narration as quiet as it is', async () => {
    const file = out('silent')
    const report = await mixSound(await tool(), { samples: 2 * RATE, takes: [], roomTone: null, hall: [], target: LOUDNESS['-14'] }, file)
    const mix = await decodeSound(await tool(), file, 2)
    expect(mix.map((channel) => channel.length)).toEqual([2 * RATE, 2 * RATE])
    expect(rms(mix[0]!, 0, 2 * RATE)).toBe(0)
    expect(report.gain).toBe(0)
  })

  it('leaves nothing behind when it is cancelled', async () => {
    const stop = new AbortController()
    const file = out('cancelled')
    const mixing = mixSound(await tool(), plan('one.wav', 'two.wav'), file, {
      signal: stop.signal,
      onProgress: (done) => done > 0.3 && stop.abort(),
    })
    await expect(mixing).rejects.toMatchObject({ code: 'cancelled' })
    expect((await readdir(folder)).filter((name) => name.includes('cancelled'))).toEqual([])
  })
})
