import { join } from 'node:path'
import type { Breakdown } from '../../../app/project/breakdown'
import { createProject } from '../../../main/store/create-project'
import { ask } from '../../pattern-window'
import type { Comparison } from '../comparison'
import { withStandIn, withWindow } from './large-window'
import { barePage, FRAMES, makeLongFilm } from './look-at-frames'
import { median, p95, timeTo, watchFrames } from './shown-frames'

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Stepped through',
  output: { width: 1920, height: 1080, rate: '60/1' },
  footage: [{ id: 'f1', file: 'bout.mp4' }],
  subjects: [],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: FRAMES, capture: { factor: '1', u: 0 }, name: 'ringside' }],
  script: [{ id: 'p1', text: ['Stepped through.'], shots: [{ run: 'c1', from: 0, to: FRAMES, speed: '1' }] }],
}

/// 500 single steps: 150 onward, then on and back as a hand looks for a frame, always the same ones.
function walk(): number[] {
  let seed = 12345
  const chance = (): number => (seed = (seed * 1103515245 + 12345) % 2147483648) / 2147483648
  let way = 1
  return Array.from({ length: 500 }, (_, i) => {
    if (i >= 150 && chance() < 0.3) way = -way
    return way
  })
}

export const stepInPlayer: Comparison = {
  name: 'step-in-player',
  question:
    'From a key to the frame on the screen, 95th percentile of 500 single steps either way after the first, in the Script room’s player, on a film of 1080p at 60 frames a second with a key frame every 250; against a bare page that draws one ready picture at each key.',
  rounds: 3,
  async prepare(folder) {
    await makeLongFilm(folder)
    await withStandIn(folder, 'stepped.claimframe', () => createProject(join(folder, 'stepped.claimframe'), breakdown))
  },
  contenders: [
    barePage,
    {
      name: 'a step in the player',
      wanted: { milliseconds: 50 },
      run: (folder) =>
        withWindow(folder, 'stepped.claimframe', async (page, file) => {
          await ask(page, 'project.open', { file })
          await page.reload()
          await page.locator('.words p', { hasText: 'Stepped through.' }).click()
          const canvas = page.locator('canvas.picture[data-detail="full"]')
          await canvas.waitFor({ timeout: 60_000 })
          await page.waitForTimeout(1500)
          await page.getByRole('button', { name: 'Run', exact: true }).focus()
          await watchFrames(page, 'canvas.picture')
          const times: number[] = []
          let frame = Number(await page.locator('canvas.picture').getAttribute('data-frame'))
          for (const by of walk()) times.push(await timeTo(page, by > 0 ? 'ArrowRight' : 'ArrowLeft', (frame += by), 'shown'))
          const later = times.slice(1)
          return { milliseconds: p95(later), 'median, ms': median(later), 'the first, ms': times[0] ?? NaN, steps: times.length }
        }),
    },
  ],
}
