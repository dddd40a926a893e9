import { existsSync } from 'node:fs'
import { mkdir, mkdtemp, readFile, realpath, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { chromium, type Browser, type Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { findBrowser } from '../../main/cli/browser-window'
import { openEngine, type Engine } from '../../main/engine'
import { openDoor, type LoopbackDoor } from '../../main/loopback/door'
import { createProject } from '../../main/store/create-project'
import { startEngine } from '../killable-engine'
import { ask, PATIENCE_MS } from '../pattern-window'
import { sine, writeWav } from '../sound-signals'
import { barriersOn } from './barriers'

/// Recording in a real browser with a known file for its microphone (a tone of 440 Hz): the tone within 0.1 Hz and no
/// sample lost or doubled; what was said when the window dies, the microphone is unplugged or the disk is full; a
/// refused microphone.

const SECONDS = Number(process.env['CLAIMFRAME_RECORDED_SECONDS'] ?? 8)
const HERTZ = 440
const RATE = 48_000

let folder: string
let engine: Engine
let door: LoopbackDoor
let browser: Browser
const faults: string[] = []

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Spoken',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'never-filmed.mp4' }],
  subjects: [],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 100, capture: 'unknown' }],
  events: [{ id: 'e1', clip: 'c1', earliest: 20, latest: 20, name: 'pelvis turns' }],
  script: [
    { id: 'p1', text: ['He plants, and the ', { cue: 'e1', word: 'pelvis' }, ' turns.'] },
    { id: 'p2', text: ['Then he waits.'] },
  ],
}

const microphone = (): string[] => [
  '--use-fake-device-for-media-stream',
  '--use-fake-ui-for-media-stream',
  `--use-file-for-fake-audio-capture=${join(folder, 'tone.wav')}`,
  '--autoplay-policy=no-user-gesture-required',
]
const flags = [
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
]

async function open(extra: readonly string[], address = door.newAddress()): Promise<{ browser: Browser; page: Page }> {
  const executablePath = findBrowser()
  if (executablePath === null) throw new Error('No Chromium-class browser was found.')
  const opened = await chromium.launch({ executablePath, headless: true, args: [...flags, ...extra] })
  const page = await opened.newPage({ viewport: { width: 1440, height: 900 } })
  page.setDefaultTimeout(PATIENCE_MS)
  page.on('pageerror', (error) => faults.push(error.message))
  await page.goto(address)
  await page.getByRole('heading', { name: 'Spoken' }).waitFor()
  await page.getByRole('button', { name: 'Narration', exact: true }).click()
  return { browser: opened, page }
}

beforeAll(async () => {
  if (!existsSync('out/renderer/index.html')) throw new Error('the window has not been built: run npm run build first')
  folder = await realpath(await mkdtemp(join(tmpdir(), 'narration-')))
  await mkdir(join(folder, 'state'))
  await writeWav(join(folder, 'tone.wav'), [sine(80, HERTZ, 0.3)])
  const made = createProject(join(folder, 'spoken.claimframe'), breakdown)
  if (!made.ok) throw made.error
  engine = openEngine({
    version: '0.0.0-test',
    page: resolve('out/renderer'),
    stateFolder: join(folder, 'state'),
    log: () => undefined,
    checked: true,
  })
  door = await openDoor({ engine: engine.answer, onRefused: () => undefined, onFault: (error) => void faults.push(String(error)) })
  engine.workspace.open(join(folder, 'spoken.claimframe'))
  browser = (await open(microphone())).browser
})
afterAll(async () => {
  await browser?.close()
  await engine?.end()
  await door?.close()
  await rm(folder, { recursive: true, force: true })
})

const samplesOf = async (id: string): Promise<Int16Array> => {
  const bytes = await readFile(join(folder, 'takes', `${id}.wav`))
  return new Int16Array(bytes.buffer.slice(bytes.byteOffset + 44, bytes.byteOffset + (bytes.length & ~1)))
}

/// The tone's phase in turns, unwound, every `step` samples: a lost or doubled sample is a jump of HERTZ / RATE turns.
function phases(samples: Int16Array, step: number): number[] {
  const out: number[] = []
  for (let at = 0; at + step <= samples.length; at += step) {
    let [re, im] = [0, 0]
    for (let i = 0; i < step; i++) {
      const angle = (2 * Math.PI * HERTZ * (at + i)) / RATE
      re += samples[at + i]! * Math.cos(angle)
      im -= samples[at + i]! * Math.sin(angle)
    }
    const turn = Math.atan2(im, re) / (2 * Math.PI)
    const before = out.at(-1) ?? turn
    out.push(turn - Math.round(turn - before))
  }
  return out
}

it('should keep every sample that the microphone gives, none lost or doubled, and the tone in them', async () => {
  const page = browser.contexts()[0]!.pages()[0]!
  await page.evaluate(() => {
    const given: Float32Array[] = []
    Object.assign(window, { given })
    window.AudioWorkletNode = class extends AudioWorkletNode {
      constructor(...all: ConstructorParameters<typeof AudioWorkletNode>) {
        super(...all)
        this.port.addEventListener('message', ({ data }) => data instanceof Float32Array && given.push(data))
      }
    }
  })
  await page.getByRole('button', { name: 'Record' }).click()
  await page.getByText('recording', { exact: true }).waitFor()
  await page.waitForTimeout(SECONDS * 1000 + 500)
  await page.getByRole('button', { name: 'Stop' }).click()
  await page.getByRole('button', { name: 'Record' }).waitFor()
  const takes = ((await ask(page, 'takes.list', {})) as { takes: { id: string; samples: number; state: string; words: string[] }[] }).takes
  expect(takes).toMatchObject([{ id: 'p1-1', state: 'finished', words: ['he', 'plants', 'and', 'the', 'pelvis', 'turns'] }])
  const samples = await samplesOf('p1-1')
  expect(samples.length).toBeGreaterThan(SECONDS * RATE)
  const given = await page.evaluate(() =>
    (window as unknown as { given: Float32Array[] }).given.flatMap((block) => Array.from(block, (sample) => Math.round(sample * 32768))),
  )
  expect(samples.length).toBe(given.length)
  expect(samples.findIndex((sample, i) => sample !== given[i])).toBe(-1)
  // 1200 samples are eleven whole turns.
  const turns = phases(samples.subarray(RATE / 2), 1200)
  const steps = turns.slice(1).map((turn, i) => turn - turns[i]!)
  const step = steps.toSorted((a, b) => a - b)[Math.floor(steps.length / 2)]!
  const jumps = steps.map((each) => ((each - step) * RATE) / HERTZ).filter((jump) => Math.abs(jump) > 0.5)
  const off = jumps.reduce((sum, jump) => sum + jump, 0)
  console.info(
    `${(samples.length / RATE).toFixed(1)} s: ${(HERTZ + (step * RATE) / 1200).toFixed(4)} Hz, off by ${off.toFixed(3)} samples in ${jumps.length} windows`,
  )
  expect(Math.abs(step * (RATE / 1200))).toBeLessThan(0.1)
  // The browser's stand-in microphone gives blocks of 480 samples, and on a busy machine may itself leave one out or give one
  // twice. One is forgiven it, and nothing else: 480 samples are four turns and 43.6 samples.
  expect(jumps.length).toBeLessThanOrEqual(2)
  const turn = RATE / HERTZ
  const apart = (samples: number): number => Math.abs(samples - turn * Math.round(samples / turn))
  expect(Math.min(...[0, 480, -480].map((block) => apart(off - block)))).toBeLessThan(0.5)
})

it('should record from the microphone that is chosen, and still know it when the window is opened again', async () => {
  const page = browser.contexts()[0]!.pages()[0]!
  const choice = page.getByLabel('microphone', { exact: false })
  await expect.poll(() => choice.locator('option').count()).toBeGreaterThan(2)
  const options = await choice
    .locator('option')
    .evaluateAll((all) => all.map((each) => ({ id: (each as HTMLOptionElement).value, label: each.textContent })))
  const other = options.at(-1)!
  expect(other.label).not.toBe('a microphone')
  await choice.selectOption(other.id)
  await page.reload()
  await page.getByRole('button', { name: 'Narration', exact: true }).click()
  await expect.poll(() => choice.inputValue()).toBe(other.id)
  await page.evaluate(() => {
    const devices = navigator.mediaDevices
    const real = devices.getUserMedia.bind(devices)
    devices.getUserMedia = async (asked) => ((window as unknown as { heard: MediaStream }).heard = await real(asked))
  })
  await page.getByRole('button', { name: 'Record' }).click()
  await page.getByText('recording', { exact: true }).waitFor()
  expect(await page.evaluate(() => (window as unknown as { heard: MediaStream }).heard.getAudioTracks()[0]!.getSettings().deviceId)).toBe(
    other.id,
  )
})

/// A fake device has no plug: the track's own end is told, as the browser tells it (Media Capture and Streams, "ended").
it('should say that the microphone was unplugged, and keep what was said', async () => {
  const page = browser.contexts()[0]!.pages()[0]!
  await page.getByText('C as you say “pelvis”').waitFor()
  const meter = async (): Promise<number> => parseFloat((await page.locator('.narration-side dd').first().textContent()) ?? '')
  await expect.poll(meter).toBeGreaterThan(1)
  const before = await meter()
  await page.keyboard.press('c')
  const pressed = await meter()
  await expect.poll(meter).toBeGreaterThan(pressed + 1)
  const behind = await meter()
  await page.evaluate(() => (window as unknown as { heard: MediaStream }).heard.getAudioTracks()[0]!.dispatchEvent(new Event('ended')))
  await page.getByRole('alert').getByText('The microphone was unplugged. What was said up to then is kept.').waitFor()
  const takes = ((await ask(page, 'takes.list', {})) as { takes: { id: string; samples: number; state: string }[] }).takes
  const kept = takes.find(({ id }) => id === 'p1-2')!
  expect(kept.state).toBe('finished')
  expect(kept.samples / RATE).toBeGreaterThan(1)
  // The word cannot be found in a tone; the key that was tapped places it. The meter is read a moment before the press, and
  // tells a tenth of a second at most too little.
  const time = () => engine.workspace.opened.project.breakdown().cueTimes?.find(({ event }) => event === 'e1')
  await expect.poll(() => time()?.u).toBe(0.06)
  expect(time()!.seconds).toBeGreaterThan(before - 0.1)
  expect(time()!.seconds).toBeLessThan(behind - 0.5)
  // All that the meter told of is kept.
  expect(kept.samples / RATE).toBeGreaterThanOrEqual(behind - 0.05)
  if (process.env['CLAIMFRAME_PICTURES']) await page.screenshot({ path: join(process.env['CLAIMFRAME_PICTURES'], 'narration.png') })
})

it('should record the room’s quiet once, name what was heard in it, and fill the film’s gaps with it, as one step', async () => {
  const page = browser.contexts()[0]!.pages()[0]!
  const sound = () => engine.workspace.opened.project.breakdown().sound
  const box = page.getByRole('group', { name: 'Room tone' })
  // The take before is put into the film once its words were looked for.
  await page.locator('.take-row', { hasText: 'p1-2' }).getByText('in the film').waitFor()
  await box.getByText('none: gaps are silent').waitFor()
  await box.getByRole('button', { name: 'Keep the quiet' }).click()
  // Longer than it must be; it ends by itself after thirty.
  await box.getByText(/^(3\.[2-9]|[4-9]\.\d|[12]\d\.\d) s/).waitFor()
  await box.getByRole('button', { name: 'Enough' }).click()
  // The microphone plays a tone: that is no quiet.
  await box.getByText('something was heard in it').waitFor()
  await expect.poll(sound).toEqual({ roomTone: 'takes/room-tone-1.wav' })
  await box.getByText('in the film').waitFor()
  const takes = ((await ask(page, 'takes.list', {})) as { takes: { id: string; kind: string; samples: number }[] }).takes
  expect(takes.find(({ id }) => id === 'room-tone-1')).toMatchObject({ kind: 'room' })
  if (process.env['CLAIMFRAME_PICTURES']) await page.screenshot({ path: join(process.env['CLAIMFRAME_PICTURES'], 'room-tone.png') })
  await page.keyboard.press('Control+z')
  await expect.poll(sound).toBe(undefined)
})

it('should keep what was said up to the last second when the window dies', async () => {
  const page = browser.contexts()[0]!.pages()[0]!
  await page.getByRole('button', { name: 'Next' }).click()
  // The paragraph before has a take: its last sentence is heard first, and is not recorded.
  await page.getByRole('button', { name: 'Record' }).click()
  const listening = page.getByRole('button', { name: 'listen …' })
  await listening.waitFor()
  let last = Date.now()
  for (let at = last; await listening.isVisible(); at = Date.now()) last = at
  await page.getByText('recording', { exact: true }).waitFor()
  const recorded = (await engine.workspace.opened.takes.list()).find(({ paragraph }) => paragraph === 'p2')!.samples / RATE
  expect(recorded).toBeLessThan(1 + (Date.now() - last) / 1000)
  await page.waitForTimeout(3000)
  const said = Number.parseFloat((await page.locator('.narration-side dd').first().textContent()) ?? '0')
  await browser.close()
  const take = (await engine.workspace.opened.takes.list()).find(({ paragraph }) => paragraph === 'p2')!
  expect(take.state).toBe('recording')
  console.info(`shown ${said} s, on the disk ${(take.samples / RATE).toFixed(2)} s`)
  expect(take.samples / RATE).toBeGreaterThan(said - 1)
})

it('should say that the microphone was refused, and be without barriers', async () => {
  const { browser: other, page } = await open(['--use-fake-device-for-media-stream', '--deny-permission-prompts'])
  try {
    await page.getByRole('button', { name: 'Record' }).click()
    await page.getByRole('alert').getByText('The microphone was refused').waitFor()
    expect(await barriersOn(page)).toEqual([])
    expect(faults).toEqual([])
  } finally {
    await other.close()
  }
})

it('should say that the disk is full while recording, and keep what was said until then', async () => {
  const limit = 1_000_000
  await mkdir(join(folder, 'full'))
  const made = createProject(join(folder, 'full', 'full.claimframe'), breakdown)
  if (!made.ok) throw made.error
  await mkdir(join(folder, 'full-state'))
  const limited = await startEngine(join(folder, 'full', 'full.claimframe'), join(folder, 'full-state'), limit)
  try {
    const { browser: other, page } = await open(microphone(), await limited.newAddress())
    try {
      await page.getByRole('button', { name: 'Next' }).click()
      await page.getByRole('button', { name: 'Record' }).click()
      await page.getByRole('alert').getByText('The disk is full. What was said up to then is kept').waitFor()
      const { takes } = (await ask(page, 'takes.list', {})) as {
        takes: { id: string; paragraph: string; samples: number; state: string }[]
      }
      const kept = takes.find(({ paragraph }) => paragraph === 'p2')!
      expect(kept.state).toBe('finished')
      expect(kept.samples * 2).toBeGreaterThan(limit - RATE * 2)
      expect(kept.samples * 2).toBeLessThanOrEqual(limit)
      if (process.env['CLAIMFRAME_PICTURES']) await page.screenshot({ path: join(process.env['CLAIMFRAME_PICTURES'], 'full.png') })
    } finally {
      await other.close()
    }
  } finally {
    await limited.kill()
  }
})
