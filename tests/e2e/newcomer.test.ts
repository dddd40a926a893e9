import { existsSync } from 'node:fs'
import { mkdir, mkdtemp, realpath, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openEngine, type Engine } from '../../main/engine'
import { openDoor, type LoopbackDoor } from '../../main/loopback/door'
import { findFfmpeg } from '../../main/media/find-ffmpeg'
import { openFilm } from '../../main/media/probe'
import { startChromium } from '../chromium'
import { makePatternFilm } from '../film-patterns'
import { keyHand, pointerHand, type Hand } from './hand'
import { PATIENCE_MS } from '../pattern-window'
import { barriersOn } from './barriers'

/// A newcomer's whole path, nothing seeded: a new project, two films, clips, events, a measure, two paragraphs with a
/// value and a cue, a run, a hold and a pair, an arrow and a zoom, played and rendered to a film on the disk. Once by
/// pointer, once by keys alone. With CLAIMFRAME_PICTURES the steps are kept as pictures for the documents, on the demo's
/// footage.

const keptPictures = process.env['CLAIMFRAME_PICTURES']
const demoFilms = ['bout-a-side.mp4', 'bout-b-side.mp4'].map((file) => resolve('demo-data/made', file))

/// What is cut, marked and pointed at: on films of patterns anything will do, on the demo's what a reader would look for.
/// Places are shares of the stage, and of the picture in the player.
const matter = keptPictures
  ? ({
      cuts: [
        ['first evening', '20', '239'],
        ['second evening', '10', '239'],
      ],
      contacts: [
        ['second evening', 132],
        ['first evening', 156],
      ],
      lead: 'right',
      run: ['130', '157'],
      knee: [
        [535.2 / 1280, 392.5 / 720],
        [504.8 / 1280, 486.8 / 720],
        [443.8 / 1280, 599.8 / 720],
      ],
      arrow: [
        [0.28, 0.55],
        [0.38, 0.665],
      ],
      zoom: [
        [0.25, 0.3],
        [0.75, 0.95],
      ],
    } as const)
  : ({
      cuts: [
        ['first evening', '10', '109'],
        ['second evening', '5', '99'],
      ],
      contacts: [
        ['second evening', 45],
        ['first evening', 60],
      ],
      lead: 'left',
      run: ['40', '61'],
      knee: [
        [0.42, 0.4],
        [0.44, 0.52],
        [0.42, 0.64],
      ],
      arrow: [
        [0.25, 0.3],
        [0.45, 0.5],
      ],
      zoom: [
        [0.2, 0.2],
        [0.75, 0.75],
      ],
    } as const)
const contact = matter.contacts[1][1]

let browser: Browser
beforeAll(async () => {
  if (!existsSync('out/renderer/index.html')) throw new Error('the window has not been built: run npm run build first')
  browser = await startChromium()
})
afterAll(async () => browser?.close())

/// A place of the stage by the shares of `matter.knee`; on the demo's films they are shares of the picture, which lies whole in
/// the middle of what a sheet leaves free. Later rounds miss by a pixel or two, as a hand does.
const onStage = (
  box: { x: number; y: number; width: number; height: number },
  [x, y]: readonly [number, number],
  round: number,
): [number, number] => {
  const scale = Math.min(box.width / 16, box.height / 9)
  const [width, height] = keptPictures ? [16 * scale, 9 * scale] : [box.width, box.height]
  return [box.x + (box.width - width) / 2 + x * width + round, box.y + (box.height - height) / 2 + y * height]
}

const barriers = (page: Page): Promise<string[]> => barriersOn(page)

describe.each(['pointer', 'keys'] as const)('by %s', (by) => {
  let folder: string
  let engine: Engine
  let door: LoopbackDoor
  let page: Page
  let hand: Hand
  let home: string | undefined
  const faults: string[] = []
  let films: readonly string[]

  beforeAll(async () => {
    folder = await realpath(await mkdtemp(join(tmpdir(), 'newcomer-')))
    await mkdir(join(folder, 'state'))
    await mkdir(join(folder, 'work'))
    const tool = await findFfmpeg()
    films = keptPictures ? demoFilms : ['first.mp4', 'second.mp4'].map((file) => join(folder, file))
    if (!keptPictures)
      for (const film of films)
        await makePatternFilm(tool, film, {
          frames: 120,
          rate: '30',
          width: 640,
          height: 360,
          sound: true,
          first: film === films[0] ? 0 : 200,
        })
    // The start screen begins in the person's own folder.
    home = process.env['HOME']
    process.env['HOME'] = join(folder, 'work')
    engine = openEngine({
      version: '0.0.0-test',
      page: resolve('out/renderer'),
      stateFolder: join(folder, 'state'),
      log: () => undefined,
      checked: true,
    })
    door = await openDoor({ engine: engine.answer, onRefused: () => undefined, onFault: (error) => void faults.push(String(error)) })
    page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
    page.setDefaultTimeout(PATIENCE_MS)
    page.on('pageerror', (error) => faults.push(error.message))
    hand = by === 'pointer' ? pointerHand : keyHand(page)
    await page.goto(door.newAddress())
    await page.getByRole('heading', { name: 'Claimframe' }).waitFor()
  })
  afterAll(async () => {
    if (home !== undefined) process.env['HOME'] = home
    await page?.close()
    await engine?.end()
    await door?.close()
    await rm(folder, { recursive: true, force: true })
  })

  const state = () => engine.workspace.opened.project.state
  const shotsOf = (row: number) => state().tables.paragraphs.get(String(state().script.child(row).attrs['id']))?.shots
  const saved = (): Promise<void> => page.getByText('all saved').waitFor()
  let pictures = 0
  const keep = async (name: string): Promise<void> => {
    if (!keptPictures || by !== 'pointer') return
    await page.waitForTimeout(4000)
    await page.screenshot({ path: join(keptPictures, `newcomer-${++pictures}-${name}.png`) })
  }

  it('should make a project', async () => {
    expect(await barriers(page)).toEqual([])
    await hand.fill(page.getByLabel('Title'), 'One hand, two evenings')
    await keep('new')
    await hand.press(page.getByRole('button', { name: 'Make it' }))
    await page.getByRole('heading', { name: 'One hand, two evenings' }).waitFor()
    expect(existsSync(join(folder, 'work', 'One hand two evenings.claimframe'))).toBe(true)
    // An empty script says where to write, and is silent from the first letter on.
    const script = page.getByRole('textbox', { name: 'Script' })
    await page.locator('.words p[data-begin]').waitFor()
    expect(await script.getAttribute('aria-placeholder')).toBe('Write here what the film says.')
    await script.focus()
    await page.keyboard.type('T')
    await page.locator('.words p[data-begin]').waitFor({ state: 'detached' })
    await page.keyboard.press('Backspace')
    await page.locator('.words p[data-begin]').waitFor()
    expect(await barriers(page)).toEqual([])
  })

  it('should gather two films and cut a clip from each', async () => {
    await page.keyboard.press('Alt+Digit2')
    for (const [i, film] of films.entries()) {
      await hand.fill(page.getByRole('textbox', { name: 'Add a film' }), film)
      await page.keyboard.press('Enter')
      await expect.poll(() => page.getByRole('button', { name: 'Cut a clip' }).count()).toBe(i + 1)
    }
    for (const [i, [name, first, last]] of matter.cuts.entries()) {
      await hand.press(page.getByRole('button', { name: 'Cut a clip' }).nth(i))
      const form = page.locator('.clip-form')
      await hand.fill(form.getByLabel('First frame', { exact: true }), first)
      await hand.fill(form.getByLabel('Last frame', { exact: true }), last)
      await hand.fill(form.getByLabel('Name', { exact: true }), name)
      if (i === 0) expect(await barriers(page)).toEqual([])
      await hand.press(form.getByRole('button', { name: 'Keep the clip' }))
      await form.waitFor({ state: 'detached' })
    }
    await saved()
    await expect
      .poll(() =>
        state()
          .tables.clips.list()
          .map((clip) => [clip.name, clip.from, clip.to]),
      )
      .toEqual(matter.cuts.map(([name, first, last]) => [name, Number(first), Number(last) + 1]))
    await keep('footage')
  })

  it('should mark contact on both clips and measure a knee on one', async () => {
    await page.keyboard.press('Alt+Digit3')
    const whole = (frame: number): Promise<void> =>
      page.locator(`.bench-canvas[data-frame="${frame}"][data-detail="full"]`).waitFor({ state: 'attached' })
    for (const [clip, contact] of matter.contacts) {
      const start = Number(matter.cuts.find(([name]) => name === clip)?.[1])
      await hand.choose(page.getByLabel('Clip', { exact: true }), clip)
      await hand.goTo(page.locator('.stage'))
      if (by === 'pointer') await page.locator('.stage').focus()
      await page.keyboard.press('Home')
      await whole(start)
      for (let at = start; at < contact; at += at + 10 <= contact ? 10 : 1) await page.keyboard.press(at + 10 <= contact ? 'PageDown' : '.')
      await whole(contact)
      await page.keyboard.press('e')
      await hand.press(page.getByRole('button', { name: `Mark it on frame ${contact}` }))
      await page.getByText(`frame ${contact}`, { exact: true }).waitFor()
      await hand.goTo(page.locator('.stage'))
      await page.keyboard.press('Escape')
      if (await page.locator('.sheet').count()) await page.keyboard.press('Escape')
    }
    await hand.fill(page.getByLabel('Who is it?'), 'Nela Varga')
    await hand.press(page.locator('.guide').getByRole('button', { name: 'Name' }))
    await hand.goTo(page.locator('.stage'))
    await page.keyboard.press('v')
    await hand.choose(page.getByLabel('Lead side'), matter.lead)
    await hand.fill(page.getByLabel('Yaw, degrees from side-on'), '5')
    await hand.press(page.getByRole('button', { name: 'State it' }))
    await hand.goTo(page.locator('.stage'))
    await page.keyboard.press('m')
    await hand.choose(page.getByLabel('Which limb'), 'rear knee')
    await hand.press(page.getByRole('button', { name: 'Place its points' }))
    const stage = (await page.locator('.stage').boundingBox())!
    const box = { ...stage, width: stage.width - (await page.locator('.sheet').boundingBox())!.width }
    for (let round = 0; round < 3; round++)
      for (const [i, [x, y]] of matter.knee.entries()) {
        if (by === 'pointer') {
          await page.mouse.click(...onStage(box, [x, y], round))
          await page.getByText('arrow keys: a quarter pixel').waitFor()
        } else {
          // Down to the hip, right to the knee, down to the ankle; in a later round first back up and left from there.
          const way = i === 1 ? ['Right'] : round > 0 && i === 0 ? ['Up', 'Left'] : ['Down']
          for (const to of way) for (let n = 0; n < 14; n++) await page.keyboard.press(`Shift+Arrow${to}`)
          await page.keyboard.press('ArrowDown')
          await page.keyboard.press('Enter')
          await page.getByText('arrow keys: a quarter pixel').waitFor()
        }
        await page.keyboard.press(' ')
      }
    await page.getByText('All points are placed.').waitFor()
    await keep('bench')
    await hand.press(page.getByRole('button', { name: 'Keep it' }))
    await page.locator('.edge-reading', { hasText: 'rear knee' }).waitFor()
    await saved()
    await expect.poll(() => state().tables.measures.list()).toHaveLength(1)
    expect(
      state()
        .tables.events.list()
        .map(({ name, earliest }) => [name, earliest]),
    ).toEqual(matter.contacts.map(([, at]) => ['contact', at]))
  })

  it('should write two paragraphs, with a value and a cue in them', async () => {
    await page.keyboard.press('Alt+Digit1')
    const words = page.locator('.words .ProseMirror')
    await hand.goTo(words)
    await page.keyboard.type('At contact the rear knee is at ')
    await page.keyboard.press('Control+.')
    await page.getByRole('combobox', { name: /^Put in/ }).waitFor()
    expect(await barriers(page)).toEqual([])
    await page.keyboard.type('knee')
    await page.keyboard.press('Enter')
    await page.locator('.words .value').waitFor()
    // Within 200 ms of getting the keys back, the editor takes a jump to the start for the browser's own doing.
    await page.waitForTimeout(300)
    await page.keyboard.type('.')
    await page.keyboard.press('Control+Home')
    for (let i = 0; i < 6; i++) await page.keyboard.press('ArrowRight')
    await page.keyboard.press('Control+.')
    await page.getByRole('combobox', { name: /^Put in/ }).waitFor()
    await page.keyboard.type('tie contact first')
    await keep('put-in')
    await page.keyboard.press('Enter')
    await page.locator('.words [data-cue]', { hasText: 'contact' }).waitFor()
    await page.waitForTimeout(300)
    await page.keyboard.press('Control+End')
    await page.keyboard.press('Enter')
    await page.keyboard.type('Both evenings, side by side.')
    await expect.poll(() => state().script.textContent).toContain('side by side.')
    expect(state().script.children.map((row) => row.textContent)).toEqual([
      'At contact the rear knee is at .',
      'Both evenings, side by side.',
    ])
  })

  it('should show a run, a hold with an arrow and a zoom, and a pair', async () => {
    if (by === 'pointer') await page.locator('.words p').first().click()
    else {
      await hand.goTo(page.locator('.words .ProseMirror'))
      await page.keyboard.press('Control+Home')
    }
    await page.locator('.words p').first().and(page.locator('.in-hand')).waitFor()
    const add = page.getByLabel('Add a shot')
    await hand.choose(add, 'run: a clip at a speed')
    const fields = page.locator('.fields')
    await fields.waitFor()
    await hand.fill(fields.getByLabel('From', { exact: true }), matter.run[0])
    await page.keyboard.press('Enter')
    await hand.fill(fields.getByLabel('Up to', { exact: true }), matter.run[1])
    await page.keyboard.press('Enter')
    await hand.choose(fields.getByLabel('Speed'), '½×')
    await expect.poll(() => shotsOf(0)?.[0]).toMatchObject({ from: Number(matter.run[0]), to: Number(matter.run[1]), speed: '1/2' })
    await saved()
    await hand.choose(add, 'hold: one frame, frozen')
    await expect.poll(() => shotsOf(0)?.length).toBe(2)
    const shots = page.locator('.shots .shot')
    await hand.press(shots.nth(1))
    await page.locator('canvas.picture[data-detail="full"]').waitFor()
    await hand.press(page.getByRole('button', { name: 'Point', exact: true }))
    for (const [tool, from, to] of [
      ['Arrow', ...matter.arrow],
      ['Zoom', ...matter.zoom],
    ] as const) {
      await hand.press(page.getByRole('button', { name: tool, exact: true }))
      await page.locator('.pointing').waitFor()
      if (by === 'pointer') {
        // Once it lies still.
        await page.locator('.pointing').hover()
        const box = (await page.locator('.pointing').boundingBox())!
        await page.mouse.move(box.x + from[0] * box.width, box.y + from[1] * box.height)
        await page.mouse.down()
        await page.mouse.move(box.x + to[0] * box.width, box.y + to[1] * box.height, { steps: 4 })
        await page.mouse.up()
      } else {
        for (let i = 0; i < 10; i++) await page.keyboard.press('ArrowLeft')
        for (let i = 0; i < 8; i++) await page.keyboard.press('ArrowUp')
        await page.keyboard.press('Enter')
        for (let i = 0; i < 20; i++) await page.keyboard.press('ArrowRight')
        for (let i = 0; i < 14; i++) await page.keyboard.press('ArrowDown')
        await page.keyboard.press('Enter')
        await page.keyboard.press('Escape')
      }
    }
    await hand.choose(page.getByLabel('Show a measure'), `apparent rear knee angle, image plane, frame ${contact}`)
    await expect
      .poll(() => {
        const shot = shotsOf(0)?.[1]
        return shot && 'marks' in shot ? shot.marks?.map((mark) => (typeof mark === 'string' ? mark : Object.keys(mark)[0])) : null
      })
      .toEqual(['arrow', 'm1'])
    expect(shotsOf(0)?.[1]).toHaveProperty('frame')
    expect(await barriers(page)).toEqual([])
    await keep('point')
    if (by === 'keys') {
      await hand.goTo(page.locator('.words .ProseMirror'))
      await page.keyboard.press('Control+End')
    } else await page.locator('.words p').nth(1).click()
    await page.locator('.words p').nth(1).and(page.locator('.in-hand')).waitFor()
    await hand.choose(page.getByLabel('Add a shot'), 'pair: two to four clips in step')
    await expect.poll(() => shotsOf(1)?.[0]).toMatchObject({ pair: [{ clip: 'c1' }, { clip: 'c2' }] })
    await page.locator('canvas.picture[data-detail="full"]').waitFor()
    await keep('pair')
  })

  it('should play, and follow the film into the next paragraph', async () => {
    if (by === 'keys') {
      await hand.goTo(page.locator('.words .ProseMirror'))
      await page.keyboard.press('Control+Home')
    } else await page.locator('.words p').first().click()
    await page.locator('.words p').first().and(page.locator('.in-hand')).waitFor()
    await hand.goTo(page.getByRole('button', { name: 'One frame on' }))
    await page.keyboard.press('PageUp')
    await page.keyboard.press('Control+ ')
    await page.getByRole('button', { name: 'Pause' }).waitFor()
    await page.locator('.words p').nth(1).and(page.locator('.in-hand')).waitFor()
    await page.getByRole('button', { name: 'Run', exact: true }).waitFor()
  })

  it('should render the film to the disk', async () => {
    await page.keyboard.press('Alt+Digit6')
    expect(await barriers(page)).toEqual([])
    await hand.press(page.getByRole('button', { name: 'Render a draft' }))
    const film = join(folder, 'work', 'One hand two evenings-draft.mp4')
    await expect.poll(() => existsSync(film), { timeout: 500_000 }).toBe(true)
    await keep('film')
    const head = await openFilm(await findFfmpeg(), film)
    expect([head.codec, head.width, head.height, head.sound?.codec]).toEqual(['h264', 960, 540, 'aac'])
    // 21 frames at ½ speed, three seconds held, then the pair: half a second each way at ¼ and two seconds still.
    expect(head.duration_s).toBeGreaterThanOrEqual(1.4 + 3 + 6)
    expect(faults).toEqual([])
  })
})
