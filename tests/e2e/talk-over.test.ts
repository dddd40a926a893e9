import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import type { Shot } from '../../app/project/picture'
import { findFfmpeg } from '../../main/media/find-ffmpeg'
import { readPattern } from '../film-patterns'
import { ask, openPatternWindow, SMALL, type PatternWindow } from '../pattern-window'
import { eachFrame } from '../render/render-document'
import { random, RATE, writeWav } from '../sound-signals'
import { barriersOn } from './barriers'

/// A talk-over in a real browser: noise from a file for its microphone, the hands on the keys for 40 s. What was seen is read
/// off the canvas at the screen's own rate; when, in samples of the recording, is told by the sound itself: the very
/// samples that reach the page at a moment are looked for in the take. Then the film is rendered and decoded, and read.

const OUTPUT_RATE = Number(process.env['CLAIMFRAME_TALK_RATE'] ?? 30)
const WITHIN = 2
/// Levels by which the arrow parts from the dark block that it crosses there.
const ARROW = 60
const FILM = { frames: 900, rate: '60', width: 640, height: 360, gop: 60, bframes: 2 } as const

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Hands on it',
  output: { width: 640, height: 360, rate: `${OUTPUT_RATE}/1` },
  footage: [{ id: 'f1', file: 'bout.mp4' }],
  subjects: [],
  clips: [{ id: 'c1', footage: 'f1', from: 10, to: 890, capture: { factor: '1', u: 0 }, name: 'the exchange' }],
  script: [
    { id: 'p1', text: [], shots: [{ card: 'caution', seconds: '1' }] },
    {
      id: 'p2',
      text: ['He plants, and the pelvis turns before the shoulders do. Watch the rear knee as the weight comes over it.'],
      shots: [{ hold: 'c1', at: 100, seconds: '2' }],
      narration: { pace: '1/4', pauses: [{ at: 1, seconds: 0.5 }] },
    },
    { id: 'p3', text: [], shots: [{ card: 'end' }] },
  ],
}

let window: PatternWindow

beforeAll(async () => {
  window = await openPatternWindow({
    films: { 'bout.mp4': FILM },
    breakdown,
    more: (folder) => writeWav(join(folder, 'voice.wav'), [noise(75)]),
    browserArguments: (folder) => [
      '--use-fake-device-for-media-stream',
      '--use-fake-ui-for-media-stream',
      `--use-file-for-fake-audio-capture=${join(folder, 'voice.wav')}`,
      '--autoplay-policy=no-user-gesture-required',
    ],
  })
})
afterAll(async () => window?.close())

interface Watched {
  /// Moments of the page's clock, ms; the grey of the 20 blocks, then how far light and dark part on a small spot that the arrow crosses.
  readonly seen: { readonly ms: number; readonly cells: number[]; readonly contrast: number }[]
  /// Sound as it reached the page.
  readonly heard: { readonly ms: number; readonly samples: number[]; readonly length: number; readonly rate: number }[]
}

/// Reads the canvas at every frame of the screen, and the sound as it reaches the page, until told to stop.
async function watch(): Promise<void> {
  await window.page.evaluate((size) => {
    const watched: { seen: unknown[]; heard: unknown[]; over: boolean } = { seen: [], heard: [], over: false }
    ;(globalThis as unknown as { watched: unknown }).watched = watched
    const devices = navigator.mediaDevices
    const real = devices.getUserMedia.bind(devices)
    devices.getUserMedia = async (asked) => {
      const stream = await real(asked)
      const Processor = (
        globalThis as unknown as {
          MediaStreamTrackProcessor: new (options: { track: MediaStreamTrack }) => { readable: ReadableStream<AudioData> }
        }
      ).MediaStreamTrackProcessor
      const reader = new Processor({ track: stream.getAudioTracks()[0]!.clone() }).readable.getReader()
      void (async () => {
        for (let n = 0; !watched.over; n++) {
          const { value } = await reader.read()
          if (!value) return
          const ms = performance.now()
          const samples = new Float32Array(value.numberOfFrames)
          value.copyTo(samples, { planeIndex: 0, format: 'f32-planar' })
          watched.heard.push({ ms, length: samples.length, rate: value.sampleRate, samples: n % 25 === 0 ? Array.from(samples) : [] })
          value.close()
        }
        await reader.cancel()
      })()
      return stream
    }
    const small = Object.assign(document.createElement('canvas'), size)
    const surface = small.getContext('2d', { willReadFrequently: true })!
    const look = (): void => {
      if (watched.over) return
      requestAnimationFrame(look)
      const canvas = document.querySelector<HTMLCanvasElement>('canvas.picture')
      if (!canvas) return
      surface.drawImage(canvas, 0, 0, size.width, size.height)
      const { data } = surface.getImageData(0, 0, size.width, size.height)
      const [wide, high] = [size.width / 5, size.height / 4]
      const cells = Array.from({ length: 20 }, (_, cell) => {
        let sum = 0
        for (let y = 3; y < high - 3; y++)
          for (let x = 3; x < wide - 3; x++) sum += data[4 * ((Math.floor(cell / 5) * high + y) * size.width + (cell % 5) * wide + x)]!
        return sum / ((high - 6) * (wide - 6))
      })
      surface.drawImage(canvas, 0.43 * canvas.width, 0.53 * canvas.height, 0.04 * canvas.width, 0.04 * canvas.height, 0, 0, 16, 8)
      const near = surface.getImageData(0, 0, 16, 8).data.filter((_, i) => i % 4 === 0)
      watched.seen.push({ ms: performance.now(), cells, contrast: Math.max(...near) - Math.min(...near) })
    }
    requestAnimationFrame(look)
  }, SMALL)
}

/// What the hands do, at which second of the recording.
async function talk(): Promise<void> {
  const { page } = window
  // After the deed before it as it is here: one that came late on a busy machine does not run into the next.
  let before = { seconds: 0, ms: Date.now() }
  const at = async (seconds: number, does: () => Promise<void>): Promise<void> => {
    await page.waitForTimeout(Math.max(0, before.ms + 1000 * (seconds - before.seconds) - Date.now()))
    await does()
    before = { seconds, ms: Date.now() }
  }
  const press = (key: string) => () => page.keyboard.press(key)
  await at(1.5, press('Space'))
  await at(7, press('-'))
  await at(7.4, press('-'))
  await at(14, press('Space'))
  for (const seconds of [16, 17.2, 18.1]) await at(seconds, press('ArrowLeft'))
  await at(21, async () => {
    const box = (await page.locator('canvas.picture').boundingBox())!
    await page.mouse.move(box.x + box.width * 0.3, box.y + box.height * 0.7)
    await page.mouse.down()
    await page.mouse.move(box.x + box.width * 0.7, box.y + box.height * 0.3, { steps: 8 })
    await page.mouse.up()
    if (process.env['CLAIMFRAME_PICTURES']) await page.screenshot({ path: join(process.env['CLAIMFRAME_PICTURES'], 'talk-over.png') })
  })
  await at(25, press('Backspace'))
  await at(26, press('+'))
  await at(27, press('Space'))
  await at(32.1, press('Space'))
  await at(33, press('ArrowRight'))
  await at(34, press('PageDown'))
  await at(36, press('Space'))
  await at(40, press('r'))
}

it('should render what was seen while talking: run, slow, stop, three steps back, arrow', async () => {
  const { page, folder } = window
  await page.getByRole('button', { name: 'Narration', exact: true }).click()
  await page.getByRole('button', { name: 'Talk over the picture' }).waitFor()
  await page.keyboard.press('t')
  await page.locator('canvas.picture[data-frame="100"]').waitFor()
  expect(await barriersOn(page)).toEqual([])
  await watch()
  await page.keyboard.press('r')
  await page.getByRole('button', { name: 'Stop', exact: true }).waitFor()
  await talk()
  await page.locator('.undo strong', { hasText: 'Talk over the picture' }).waitFor()
  const { seen, heard } = await page.evaluate(() => {
    const { watched } = globalThis as unknown as { watched: Watched & { over: boolean } }
    watched.over = true
    return watched
  })

  const row = (await documentNow()).script.find((each) => 'id' in each && each.id === 'p2') as Extract<
    Breakdown['script'][number],
    { text: unknown }
  >
  expect(row.take).toBe('takes/p2-1.wav')
  expect(row.narration).not.toHaveProperty('pace')
  expect(row.narration).not.toHaveProperty('pauses')
  const kinds = (row.shots ?? []).map((shot: Shot) =>
    'run' in shot ? `run ${shot.speed}` : 'hold' in shot ? `hold${shot.marks ? ' marked' : ''}` : 'other',
  )
  // On a busy machine a run stands where its frames were late: the speeds follow one another all the same.
  const runs = kinds.filter((kind) => kind.startsWith('run'))
  expect(runs.filter((kind, i) => kind !== runs[i - 1])).toEqual(['run 1', 'run 1/2', 'run 1/4', 'run 1/2'])
  expect(kinds).toContain('hold marked')

  const bytes = await readFile(join(folder, row.take!))
  const take = new Int16Array(bytes.buffer.slice(bytes.byteOffset + 44, bytes.byteOffset + (bytes.length & ~1)))
  const sampleAt = clockOf(heard, take)

  const { job } = (await ask(page, 'render.start', { file: join(folder, 'film.mp4'), quality: 'draft' })) as { job: string }
  await expect
    .poll(
      async () =>
        ((await ask(page, 'jobs.list', {})) as { jobs: { id: string; state: string }[] }).jobs.find(({ id }) => id === job)?.state,
      { timeout: 360_000, interval: 500 },
    )
    .toBe('done')
  const film: { number: number; arrow: boolean }[] = []
  const [width, height] = [320, 180]
  await eachFrame(await findFfmpeg(), join(folder, 'film.mp4'), { width, height }, (pixels) => {
    const near: number[] = []
    for (let y = Math.ceil(0.53 * height); y < 0.57 * height; y++)
      near.push(...pixels.subarray(y * width + Math.ceil(0.43 * width), y * width + Math.floor(0.47 * width)))
    film.push({ number: readPattern(pixels, width, height), arrow: Math.max(...near) - Math.min(...near) > ARROW })
  })
  const paragraph = film.slice(OUTPUT_RATE, OUTPUT_RATE + Math.ceil((take.length / RATE) * OUTPUT_RATE))

  const looks = seen.map(({ ms, cells, contrast }) => ({
    n: Math.floor((sampleAt(ms) / RATE) * OUTPUT_RATE),
    number: readPattern(Uint8Array.from(cells), 5, 4),
    arrow: contrast > ARROW,
  }))
  const observed = looks.filter(({ n }) => n >= 0 && n < (take.length / RATE) * OUTPUT_RATE - 1)
  const distances = observed.map(({ n, number, arrow }) =>
    nearest(paragraph, n, (frame) => frame.number === number && frame.arrow === arrow),
  )
  const times = (most: number): number => distances.filter((distance) => distance <= most).length
  const gaps = observed.slice(1).map(({ n }, i) => n - observed[i]!.n)
  console.info(
    `${(take.length / RATE).toFixed(1)} s, ${observed.length} looks (${observed.filter(({ arrow }) => arrow).length} with the arrow, ${observed.filter(({ number }) => number < 0).length} unreadable, longest gap ${Math.max(...gaps)} output frames); off by 0: ${times(0)}, 1: ${times(1) - times(0)}, 2: ${times(2) - times(1)}, more: ${observed.length - times(2)}; most ${Math.max(...distances)}`,
  )
  for (const [i, distance] of distances.entries())
    if (distance > WITHIN)
      console.info(
        JSON.stringify({
          ...observed[i],
          distance,
          film: paragraph.slice(Math.max(0, observed[i]!.n - 3), observed[i]!.n + 4).map(({ number }) => number),
        }),
      )
  expect(take.length / RATE).toBeGreaterThan(39)
  // However seldom a busy screen shows anything: it was looked at in nine seconds of ten, and at the arrow in three of its four.
  const seconds = (of: typeof observed): number => new Set(of.map(({ n }) => Math.floor(n / OUTPUT_RATE))).size
  expect(seconds(observed)).toBeGreaterThan((0.9 * take.length) / RATE)
  expect(seconds(observed.filter(({ arrow }) => arrow))).toBeGreaterThanOrEqual(3)
  expect(Math.max(...distances)).toBeLessThanOrEqual(WITHIN)
  // Between two looks what was seen is not known: the film shows what was seen within two output frames, or something between,
  // where the looks lie further apart the last one before and the first one after.
  const strange = paragraph.flatMap((frame, n) => {
    const around = [
      looks.findLast((look) => look.n <= n - WITHIN),
      ...looks.filter((look) => Math.abs(look.n - n) <= WITHIN),
      looks.find((look) => look.n >= n + WITHIN),
    ].flatMap((look) => look?.number ?? [])
    return frame.number >= Math.min(...around) && frame.number <= Math.max(...around)
      ? []
      : [`${n}: ${frame.number}, seen ${around.join()}`]
  })
  expect(strange).toEqual([])

  await page.keyboard.press('Control+z')
  await page.locator('.undo', { hasText: 'Redo' }).waitFor()
  expect((await documentNow()).script[1]).toEqual(breakdown.script[1])
  expect(window.faults).toEqual([])
})

const documentNow = async (): Promise<Breakdown> =>
  JSON.parse(((await ask(window.page, 'project.document', {})) as { text: string }).text) as Breakdown

/// How many output frames lie between `n` and the nearest frame of the film that `holds`.
function nearest<T>(frames: readonly T[], n: number, holds: (frame: T) => boolean): number {
  for (let by = 0; by < frames.length; by++)
    if ([frames[n - by], frames[n + by]].some((frame) => frame !== undefined && holds(frame))) return by
  return Infinity
}

/// Noise that no two moments have in common, with nothing above some 3 kHz: whatever rates the browser takes it through,
/// it stays itself.
function noise(seconds: number): Float32Array {
  const next = random(7)
  const knots = Float32Array.from({ length: seconds * 6000 + 2 }, () => 0.3 * (next() - 0.5))
  return Float32Array.from({ length: seconds * RATE }, (_, i) => {
    const [at, part] = [Math.floor(i / 8), (i % 8) / 8]
    return knots[at]! * (1 - part) + knots[at + 1]! * part
  })
}

/// Pieces of sound, 10 ms each, that may reach the page before the take begins.
const FIRST_HEARD = 100

/// Sample of the take at a moment of the page's clock: the sound that reached the page is found in the take itself, by
/// correlation; of the words of a second and a half to either side the least late one counts.
function clockOf(heard: Watched['heard'], take: Int16Array): (ms: number) => number {
  const begins: { ms: number; begin: number }[] = []
  let last: { at: number; ms: number } | null = null
  for (const { ms, samples, length, rate } of heard.slice(FIRST_HEARD)) {
    if (samples.length === 0) continue
    const sound = Float64Array.from({ length: Math.floor(((length - 1) * RATE) / rate) }, (_, i) => {
      const at = (i * rate) / RATE
      return samples[Math.floor(at)]! * (1 - (at % 1)) + (samples[Math.floor(at) + 1] ?? 0) * (at % 1)
    })
    const guess: number = last ? last.at + ((ms - last.ms) * RATE) / 1000 : 1.5 * RATE
    let best = { at: -1, alike: 0 }
    // Near where it should be; on a busy machine it may have come to the page much later than what came before it.
    for (const reach of last ? [1500, 1.5 * RATE] : [1.5 * RATE]) {
      if (best.alike >= 0.97) break
      for (let at = Math.max(0, Math.round(guess - reach)); at < Math.min(take.length - sound.length, guess + reach); at++) {
        const alike = likeness(sound, take, at)
        if (alike > best.alike) best = { at, alike }
      }
    }
    if (best.alike < 0.97) continue
    last = { at: best.at, ms }
    begins.push({ ms, begin: best.at + (length * RATE) / rate - (ms * RATE) / 1000 })
  }
  if (begins.length < 100) throw new Error(`the sound was found ${begins.length} times in the take`)
  const [first, end] = [begins[0]!.ms, begins.at(-1)!.ms]
  return (ms) =>
    Math.max(...begins.filter((word) => Math.abs(word.ms - Math.max(first, Math.min(end, ms))) < 1500).map(({ begin }) => begin)) +
    (ms * RATE) / 1000
}

function likeness(sound: Float64Array, take: Int16Array, from: number): number {
  let [both, own, its] = [0, 0, 0]
  for (let i = 0; i < sound.length; i++) {
    const [a, b] = [sound[i]!, take[from + i]!]
    both += a * b
    own += a * a
    its += b * b
  }
  return both / Math.sqrt(own * its || 1)
}
