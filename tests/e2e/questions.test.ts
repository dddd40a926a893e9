import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import type { Landmark } from '../../app/project/film'
import { openPatternWindow, type PatternWindow } from '../pattern-window'
import { barriersOn } from './barriers'
import { keyHand, pointerHand } from './hand'

/// What a person wants to say, asked on the Bench: each question with its value, its error and what may be said of it.

/// A standing body that leans and goes to the right from frame 20 to 40, its left knee bent by so many degrees.
const body = (clip: string, bent: number): Landmark[] => {
  const bend = (bent * Math.PI) / 180
  const places: Readonly<Record<string, readonly [number, number]>> = {
    'hip.left': [600, 400],
    'hip.right': [640, 402],
    'knee.left': [600, 520],
    'ankle.left': [600 + 120 * Math.sin(bend), 520 + 120 * Math.cos(bend)],
    'knee.right': [650, 520],
    'ankle.right': [650, 640],
    'shoulder.left': [590, 240],
    'shoulder.right': [650, 244],
    'elbow.left': [560, 300],
    'elbow.right': [690, 300],
    'wrist.left': [540, 250],
    'wrist.right': [720, 250],
    'head.top': [620, 150],
    chin: [620, 206],
  }
  return Object.entries(places).map(([point, [x, y]]) => ({
    clip,
    subject: 's1',
    point,
    samples: Array.from({ length: 31 }, (_, i) => ({
      frame: 15 + i,
      at: [x + 6 * Math.max(0, Math.min(20, i - 5)), y] as [number, number],
      sigma: 2,
      origin: 'tracked' as const,
    })),
  }))
}
const names = ['first evening', 'second evening', 'third evening', 'sparring']
const clips: Breakdown['clips'] = names.map((name, i) => ({
  id: `c${i + 1}`,
  footage: 'f1',
  from: 0,
  to: 60,
  name,
  capture: { factor: '1', u: 0 },
  ...(name === 'sparring' ? { use: { state: 'rejected', reason: 'headgear hides the chin' } } : {}),
}))
const knee = { kind: 'joint-angle', subject: 's1', points: ['hip.left', 'knee.left', 'ankle.left'] } as const
const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Questions',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'bout.mp4' }],
  subjects: [
    { id: 's1', name: 'Nela Varga' },
    { id: 's2', name: 'Ivo Lindt' },
  ],
  clips,
  views: clips.map(({ id }) => ({ clip: id, subject: 's1', from: 0, to: 60, lead: 'left' as const, yaw: { deg: 5, u: 3 } })),
  events: clips.flatMap(({ id }) => [
    { id: `${id}load`, clip: id, name: 'load', earliest: 20, latest: 20 },
    { id: `${id}end`, clip: id, name: 'end', earliest: 40, latest: 40 },
  ]),
  landmarks: [...body('c1', 60), ...body('c2', 15)],
  measures: [
    { ...knee, points: [...knee.points], id: 'm1', clip: 'c1', frame: 30 },
    { ...knee, points: [...knee.points], id: 'm2', clip: 'c2', frame: 30 },
    { ...knee, points: [...knee.points], id: 'm3', clip: 'c3', frame: 30 },
  ],
  script: [{ id: 'p1', text: ['She steps.'], shots: [] }],
}

let window: PatternWindow
let page: Page
beforeAll(async () => {
  window = await openPatternWindow({ films: { 'bout.mp4': { frames: 60, rate: '120', width: 1280, height: 720, gop: 30 } }, breakdown })
  page = window.page
  await page.getByRole('button', { name: 'Bench', exact: true }).click()
  await page.getByLabel('Frame of the clip').fill('30')
  // The picture is there, and all that is placed on it.
  await page.locator('.bench-canvas[data-frame="30"][data-detail="full"][data-points="14"]').waitFor({ state: 'attached' })
  await page.locator('.stage').focus()
  await page.keyboard.press('m')
})
afterAll(async () => window?.close())

const want = (name: string): Promise<string[]> => page.getByLabel('I want to say').selectOption(name)
const told = (): Promise<string> => page.locator('.sheet form .told').innerText()
const chosen = (label: string): Promise<string> => page.getByLabel(label).locator('option:checked').innerText()

it('should say by keys alone that one value is less than another clip’s, with its error and no barrier', async () => {
  const hand = keyHand(page)
  await hand.choose(page.getByLabel('I want to say'), 'more than, less than or the same as')
  await hand.goTo(page.getByLabel('Against that value'))
  await expect.poll(() => chosen('This value')).toMatch(/^first evening · frame 30 · 1\d\d° ± \d+°$/)
  await expect.poll(() => chosen('Against that value')).toMatch(/^second evening · frame 30 · /)
  await expect
    .poll(told)
    .toMatch(
      /−45° ± \d+°.*differs[^]*● good · error from placing ±[^]*You may say: the first is less than the second\.[^]*What would help most: /,
    )
  expect(await barriersOn(page)).toEqual([])
  await hand.press(page.getByRole('button', { name: 'Keep it' }))
  await page.locator('.sheet li.chosen').getByText('First: first evening · frame 30').waitFor()
})

it('should write down how near is near before the other is measured, refuse what cannot be shown, and mark what is changed later', async () => {
  await want('comparison')
  await page.getByLabel('This value').selectOption('m1')
  await page.getByLabel('Against that value').selectOption('m3')
  await page.getByLabel('How near counts as the same').fill('3')
  await page.getByText(/^At this precision nothing nearer than \d+° can be shown\.$/).waitFor()
  await page.getByLabel('How near counts as the same').fill('40')
  await page.getByText('What is kept is how near counts as the same, written down before the two can be compared.').waitFor()
  await page.getByRole('button', { name: 'Keep it' }).click()
  const kept = page.locator('.sheet li.chosen')
  await kept.getByText('not measured', { exact: true }).first().waitFor()
  await kept.getByRole('button', { name: 'Change it' }).click()
  await page.getByLabel('Against that value').selectOption('m2')
  await page.getByLabel('How near counts as the same').fill('50')
  await page.getByRole('button', { name: 'Keep the change' }).click()
  await page.locator('.sheet li.chosen').getByText('You may say: the first is less than the second.').waitFor()
})

it('should count the clips of a stated set, tell those that cannot be judged and those that were set aside', async () => {
  await want('count')
  await pointerHand.fill(page.getByLabel('What is seen'), 'rear heel off the floor')
  await page.getByLabel('What was looked at, and why these').fill('every clip of the autumn in which she throws the right hand')
  for (const [name, shows] of [
    ['first evening', 'seen'],
    ['second evening', 'not seen'],
    ['third evening', 'cannot be judged'],
  ] as const)
    await page.getByLabel(`${name}: what it shows`).selectOption({ label: shows })
  await page.getByLabel('third evening: why it cannot be judged').fill('feet cut off')
  await expect.poll(told).toMatch(/1 of 2, 1 not usable[^]*with a warning · error from so few cases alone[^]*look at more cases/)
  expect(await barriersOn(page)).toEqual([])
  await page.getByRole('button', { name: 'Keep it' }).click()
  await page.locator('.sheet li.chosen').getByText('Cannot be judged: third evening (feet cut off)').waitFor()
  await page.locator('.sheet li.chosen').getByText('Set aside: sparring (headgear hides the chin)').waitFor()
})

it('should tell moves, speeds, peaks and their order, each with its error, and say where points are missing', async () => {
  await want('moved')
  await page.getByText('Here rear fist is not placed.').waitFor()
  await page.getByLabel('Which limb').selectOption('rear wrist')
  for (const [name, says] of [
    ['head', /1\.07 ± 0\.\d+ head heights[^]*error from/],
    ['moved', /trunk lengths[^]*error from/],
    ['speed', /a second[^]*error from/],
    ['balance', /balance point[^]*error from/],
    ['peak', /peak rate of rear wrist|peak rate of rear knee/],
  ] as const) {
    await want(name)
    await expect.poll(told, { message: name }).toMatch(says)
  }
  await want('separation')
  await page.getByText('the widths of hips and shoulders were not taken square to the camera').waitFor()
  await page.getByRole('button', { name: 'This one: hips square to the camera' }).click()
  await page.getByLabel('Shoulders square on frame').fill('50')
  await page.getByText('On frame 50 lead shoulder and rear shoulder are not placed.').waitFor()
  await page.getByLabel('Shoulders square on frame').fill('16')
  await page.getByLabel('Nearer hip').selectOption({ label: 'left, lead' })
  await page.getByLabel('Nearer shoulder').selectOption({ label: 'left, lead' })
  await expect.poll(told).toMatch(/roughly[^]*range only · error from/)
  expect(await barriersOn(page)).toEqual([])
})

it('should ask of what is judged by eye how it was seen and how far it may be off, and say what is taken where it is not stated', async () => {
  await want('eye')
  await page.getByLabel('What', { exact: true }).fill('rear knee')
  await page.getByLabel('Value', { exact: true }).fill('140')
  await page.getByText('Without it 12° is taken, for how it is seen.').waitFor()
  await expect.poll(told).toContain('by eye roughly 115–165°')
  await page.getByLabel('How it is seen').selectOption('planar')
  await page.getByText('Without it 6° is taken, for how it is seen.').waitFor()
  await expect.poll(told).toMatch(/by eye ≈ 140° ± 12°/)
  await page.getByLabel('± (1 σ)').fill('2.5')
  await expect.poll(told).toMatch(/by eye ≈ 140° ± 5°/)
  expect(await told()).toContain(
    'What would help most: place its points and measure the angle, or look at it again without seeing this value.',
  )
  expect(await barriersOn(page)).toEqual([])
})

it('should not offer to keep what is not measured, and say why', async () => {
  await page.getByLabel('Frame of the clip').fill('5')
  await want('joint')
  await expect.poll(told).toContain('not measured')
  await page.getByText('It is not measured, so there is no value to keep.').waitFor()
  expect(await page.getByRole('button', { name: 'Keep it' }).isDisabled()).toBe(true)
  expect(await barriersOn(page)).toEqual([])
  await page.getByLabel('Frame of the clip').fill('30')
  await page.getByText('It is not measured, so there is no value to keep.').waitFor({ state: 'detached' })
  expect(await page.getByRole('button', { name: 'Keep it' }).isDisabled()).toBe(false)
})

it('should ask of the floor only with a line to another person and a foot that stands flat', async () => {
  await want('off line')
  await expect.poll(() => page.getByLabel('Line towards').locator('option').allInnerTexts()).toEqual(['Ivo Lindt'])
  await expect.poll(told).toContain('it is not stated that the foot stands flat on the floor')
  await page.getByLabel('The foot stands flat on the floor').check()
  await expect.poll(told).toContain('fewer than four floor marks are placed')
  expect(await barriersOn(page)).toEqual([])
})

it('should say what is made of a value before both are removed, as one step', async () => {
  await page.getByRole('button', { name: /^Remove apparent lead knee angle/ }).click()
  await page.getByText('2 other values are made of it').waitFor()
  await page.getByRole('button', { name: 'Remove all' }).click()
  await page.getByRole('button', { name: /^Remove apparent lead knee angle/ }).waitFor({ state: 'detached' })
  await page.getByRole('button', { name: /^Remove rear heel off the floor/ }).waitFor()
  await expect.poll(() => page.locator('.sheet li').count()).toBeLessThan(5)
  await page.keyboard.press('Control+z')
  await page.getByRole('button', { name: /^Remove apparent lead knee angle/ }).waitFor()
  expect(window.faults).toEqual([])
})

it('should show beside the words what a comparison holds against what: both frames, and whose value is the first', async () => {
  await page
    .locator('.sheet li')
    .getByRole('button', { name: /−45° ± \d+°.*differs/ })
    .first()
    .click()
  await page.getByRole('button', { name: 'Put the chosen value into the script' }).click()
  await page.getByRole('button', { name: 'Script', exact: true }).click()
  await page.locator('.words p').first().click()
  const rests = page.getByRole('region', { name: 'What these words rest on' })
  await rests.getByText(/^First: first evening · frame 30 · 1\d\d° ± \d+°$/).waitFor()
  await rests.getByText(/^Second: second evening · frame 30 · 1\d\d° ± \d+°$/).waitFor()
  await expect
    .poll(() => rests.getByRole('img').evaluateAll((all) => all.map((img) => img.getAttribute('alt'))))
    .toEqual(expect.arrayContaining(['frame 30 of first evening', 'frame 30 of second evening']))
  expect(await barriersOn(page)).toEqual([])
  expect(window.faults).toEqual([])
})
