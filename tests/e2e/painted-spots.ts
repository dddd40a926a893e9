import type { Locator, Page } from 'playwright-core'
import type { Point } from '../../app/project/fields'
import type { Random } from '../outside/measure/random'
import { captureRegion, spotsIn } from '../screen'

/// Films of bright spots on grey, and a hand that goes to the spots that the screen shows, a little beside each as a hand does.

export interface Size {
  readonly width: number
  readonly height: number
}

const GREY = 50
const BRIGHT = 170

/// A spot on a grey picture: an ellipse about a place, `a` pixels to each side and `b` up and down.
export function paintSpot(picture: Uint8Array, { width }: Size, [px, py]: Point, [a, b]: Point): void {
  for (let j = Math.floor(py - b) - 1; j <= py + b + 1; j++)
    for (let i = Math.floor(px - a) - 1; i <= px + a + 1; i++) {
      let inside = 0
      for (let k = 0; k < 16; k++)
        if (((i + ((k % 4) + 0.5) / 4 - px) / a) ** 2 + ((j + (Math.floor(k / 4) + 0.5) / 4 - py) / b) ** 2 <= 1) inside++
      if (inside > 0) picture[j * width + i] = Math.round(GREY + (BRIGHT * inside) / 16)
    }
}

export const greyPicture = ({ width, height }: Size): Uint8Array => new Uint8Array(width * height).fill(GREY)

/// A hand on the Bench's stage. `project`: where a place of the hall is on the picture, px.
export function spotHand<Place>(page: Page, { width, height }: Size, project: (place: Place) => Point, random: Random) {
  const stage = (): Locator => page.locator('.stage')
  const button = (name: string): Locator => page.getByRole('button', { name, exact: true })

  /// Waits until the stage looks the same for a while: the picture moves aside as a sheet opens.
  const still = async (): Promise<void> => {
    const look = async (): Promise<string> => (await stage().screenshot()).toString('base64')
    for (let [before, now] = ['', await look()]; before !== now; [before, now] = [now, await look()]) await page.waitForTimeout(150)
  }
  /// Where the screen shows the spot that lies nearest to where the place should be.
  const spotAt = async (place: Place): Promise<Point> => {
    const whole = (await stage().boundingBox())!
    // The picture lies beside an open sheet.
    const covered = await page.locator('.sheet').evaluateAll(([sheet]) => sheet?.getBoundingClientRect().width ?? 0)
    const box = { ...whole, width: whole.width - covered }
    const scale = Math.min(box.width / width, box.height / height)
    const [x, y] = project(place)
    const [left, top] = [
      Math.round(box.x + (box.width - width * scale) / 2 + x * scale) - 20,
      Math.round(box.y + (box.height - height * scale) / 2 + y * scale) - 14,
    ]
    const spots = spotsIn(await captureRegion(page, { x: left, y: top, width: 40, height: 28 }), 120).map(([sx, sy]): Point => [
      left + sx,
      top + sy,
    ])
    const [nearest] = spots.sort((a, b) => Math.hypot(a[0] - left - 20, a[1] - top - 14) - Math.hypot(b[0] - left - 20, b[1] - top - 14))
    if (!nearest) throw new Error(`the screen shows no spot at ${JSON.stringify(place)}`)
    return nearest
  }
  return {
    stage,
    button,
    /// Places the points of the guided placing that a button begins at these places, three rounds of them. The spots are looked for
    /// before the magnifier covers some of the picture.
    async place(begins: string, places: readonly Place[]): Promise<void> {
      await page.mouse.move(4, 4)
      await still()
      const spots: Point[] = []
      for (const each of places) spots.push(await spotAt(each))
      await button(begins).click()
      await page.getByText('click, or Enter').waitFor()
      for (let round = 0; round < 3; round++)
        for (const [x, y] of spots) {
          await page.mouse.click(Math.round(x + 0.8 * random.normal()), Math.round(y + 0.8 * random.normal()))
          await page.getByText('arrow keys: a quarter pixel').waitFor()
          await page.keyboard.press(' ')
        }
      await page.getByText('All points are placed.').waitFor()
      // What is told of them is told by what is kept: the last placing may be on its way still.
      await page.getByText('all saved', { exact: true }).waitFor()
    },
  }
}
