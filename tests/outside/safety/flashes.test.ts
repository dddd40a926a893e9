import { describe, expect, it } from 'vitest'
import { FLASH_AREA } from '../../../app/safety/flash-definition'
import { FlashMeter, flashPicture, type FlashReport } from '../../../app/safety/flash-meter'
import { rational } from '../../../app/time/rational'

/// W3C, "general flash and red flash thresholds" (Web Content Accessibility Guidelines 2.x, success criterion
/// 2.3.1), with the working definition of red flashes of WCAG 2.2. The window is the definition's 341 × 256
/// pixels of a screen of 1024 × 768; the cases are the definition's own limits, a little to either side.

const SCREEN = { width: 1024, height: 768 }
const SIZE = flashPicture(SCREEN)
const RATE = 30

type Colour = readonly [number, number, number]
interface Block {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/// The 8-bit grey of a relative luminance (IEC 61966-2-1, backwards).
const grey = (luminance: number): Colour => {
  const c = luminance <= 0.0031308 ? 12.92 * luminance : 1.055 * luminance ** (1 / 2.4) - 0.055
  const level = Math.round(255 * c)
  return [level, level, level]
}

/// A picture in the meter's size, a block of the screen in another colour.
function picture(colour: Colour, block: Block | null, inside: Colour): Uint8Array {
  const rgb = new Uint8Array(SIZE.width * SIZE.height * 3)
  const scale = SIZE.width / SCREEN.width
  for (let y = 0; y < SIZE.height; y++)
    for (let x = 0; x < SIZE.width; x++) {
      const [px, py] = [(x + 0.5) / scale, (y + 0.5) / scale]
      const within = block === null || (px >= block.x && px < block.x + block.width && py >= block.y && py < block.y + block.height)
      rgb.set(within ? inside : colour, 3 * (y * SIZE.width + x))
    }
  return rgb
}

/// Two pictures by turns, `hertz` times a second each, for a second and a half.
function alternate(hertz: number, a: Colour, b: Colour, block: Block | null = null, ground: Colour = a): FlashReport {
  const pictures = [picture(ground, block, a), picture(ground, block, b)] as const
  const meter = new FlashMeter(SIZE, rational(RATE))
  for (let n = 0; n < 1.5 * RATE; n++) meter.add(pictures[(Math.floor((2 * n * hertz) / RATE + 1e-9) & 1) as 0 | 1])
  return meter.report()
}

/// A block of so much of the definition's window, in the middle of the screen.
function blockOf(share: number): Block {
  const side = Math.sqrt(share)
  const [width, height] = [341 * side, 256 * side]
  return { x: (SCREEN.width - width) / 2, y: (SCREEN.height - height) / 2, width, height }
}

const [dark, light] = [grey(0.4), grey(0.6)]

describe('general flashes', () => {
  it('fail at relative luminance 0.40 and 0.60 by turns at 15 Hz over the whole picture', () => {
    const { general, red } = alternate(15, dark, light)
    expect(general.exceeded).toBe(true)
    expect(general.share).toBe(1)
    expect(red.exceeded).toBe(false)
  })

  it('pass at 1 Hz and at 3 Hz, and fail from more than three a second on', () => {
    expect(alternate(1, dark, light).general.exceeded).toBe(false)
    expect(alternate(3, dark, light).general.exceeded).toBe(false)
    expect(alternate(4, dark, light).general.exceeded).toBe(true)
  })

  it('pass on 24 % of the window of 341 × 256 pixels and fail on 26 %', () => {
    const small = alternate(15, dark, light, blockOf(0.24))
    expect(small.general.exceeded).toBe(false)
    expect(small.general.share).toBeGreaterThan(0.23)
    const large = alternate(15, dark, light, blockOf(0.26))
    expect(large.general.exceeded).toBe(true)
    expect(large.general.share).toBeLessThan(0.27)
  })

  it('fail on 24 % of the whole screen, which is more than any window', () => {
    const side = Math.sqrt(0.24)
    expect(alternate(15, dark, light, { x: 0, y: 0, width: 1024 * side, height: 768 * side }).general.exceeded).toBe(true)
  })

  it('pass where the darker picture is not below 0.80, and fail where it is', () => {
    expect(alternate(15, grey(0.85), grey(0.95)).general.exceeded).toBe(false)
    expect(alternate(15, grey(0.78), grey(0.9)).general.exceeded).toBe(true)
  })

  it('pass where the luminance changes by less than 0.10', () => {
    expect(alternate(15, grey(0.4), grey(0.49)).general.exceeded).toBe(false)
  })

  it('fail where more than a quarter of the window flashes now here, now there, and no point more than three times a second', () => {
    const meter = new FlashMeter(SIZE, rational(RATE))
    const places = [0, 1].map((i): Block => ({ x: 171 * i, y: 0, width: 170, height: 240 }))
    for (let n = 0; n < 2 * RATE; n++) {
      const block = places[Math.floor(n / 6) % 2] as Block
      meter.add(picture(dark, block, n % 6 < 3 ? light : dark))
    }
    expect(meter.report().general.exceeded).toBe(true)
  })

  it('are found wherever they begin in a film, and only there', () => {
    const meter = new FlashMeter(SIZE, rational(RATE))
    const [a, b] = [picture(dark, null, dark), picture(light, null, light)]
    for (let n = 0; n < 4 * RATE; n++) meter.add(n >= 45 && n < 75 && n % 2 === 0 ? b : a)
    const { stretches } = meter.report().general
    expect(stretches).toHaveLength(1)
    expect(stretches[0]!.from).toBeGreaterThanOrEqual(45)
    expect(stretches[0]!.from).toBeLessThan(60)
    expect(stretches[0]!.to).toBeLessThanOrEqual(76)
  })

  it('have the area of their own stretch, not the largest of the film', () => {
    const meter = new FlashMeter(SIZE, rational(RATE))
    const block = blockOf(0.4)
    const [calm, small, whole] = [picture(dark, null, dark), picture(dark, block, light), picture(light, null, light)]
    for (let n = 0; n < 5 * RATE; n++)
      meter.add(n % 2 === 1 || (n >= RATE && n < 3 * RATE) || n >= 4 * RATE ? calm : n < RATE ? small : whole)
    const { share, stretches } = meter.report().general
    expect(stretches.map((each) => Number(each.share.toFixed(1)))).toEqual([0.4, 1])
    expect(share).toBe(1)
  })
})

describe('red flashes', () => {
  const red: Colour = [255, 0, 0]

  it('fail where saturated red and black follow each other at 15 Hz', () => {
    expect(alternate(15, red, [0, 0, 0]).red.exceeded).toBe(true)
  })

  it('fail against a grey of the same luminance, which is no general flash', () => {
    const { red: found, general } = alternate(15, red, grey(0.2126))
    expect(found.exceeded).toBe(true)
    expect(general.exceeded).toBe(false)
  })

  it('pass at 1 Hz, on 24 % of the window, and for a red that is not saturated', () => {
    expect(alternate(1, red, [0, 0, 0]).red.exceeded).toBe(false)
    expect(alternate(15, red, [0, 0, 0], blockOf(0.24), [0, 0, 0]).red.exceeded).toBe(false)
    expect(alternate(15, red, [0, 0, 0], blockOf(0.26), [0, 0, 0]).red.exceeded).toBe(true)
    expect(alternate(15, [200, 140, 130], [120, 120, 120]).red.exceeded).toBe(false)
  })
})

it('takes a film of any shape in half of the size in which it fits the definition’s screen', () => {
  expect(flashPicture({ width: 1920, height: 1080 })).toEqual({ width: 512, height: 288 })
  expect(flashPicture({ width: 1080, height: 1920 })).toEqual({ width: 216, height: 384 })
  expect(flashPicture({ width: 320, height: 180 })).toEqual({ width: 512, height: 288 })
  expect(FLASH_AREA).toBe(0.25)
})
