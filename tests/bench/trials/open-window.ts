import type { Comparison, Contender } from '../comparison'
import { largeBreakdown } from './read-document'
import { makeProject, openProject, withWindow } from './large-window'

/// Reading the film and comparing it with others takes about a second; the window's own work less.
const SETTLED_MS = 5000

const opening = (paragraphs: number, limits: Pick<Contender, 'wanted' | 'most'> = {}): Contender => ({
  name: `${paragraphs} paragraphs`,
  ...limits,
  run: (folder) =>
    withWindow(folder, `p${paragraphs}.claimframe`, async (page, file) => {
      // The film has been read before, as it has on any day but the first, and what that began in the background is over.
      await openProject(page, file)
      await page.locator('canvas.picture[data-detail="full"]').waitFor()
      await page.waitForTimeout(SETTLED_MS)
      const milliseconds = await openProject(page, file)
      await page.locator('.pictures .row').nth(2).waitFor()
      return { milliseconds, 'opened in, ms': milliseconds }
    }),
})

export const openWindow: Comparison = {
  name: 'open-window',
  question:
    'From asking for a project to its words and values on the screen: three shots to two paragraphs, 2,000 readings; 200 paragraphs against 100.',
  rounds: 5,
  async prepare(folder) {
    for (const paragraphs of [100, 200]) await makeProject(folder, `p${paragraphs}.claimframe`, largeBreakdown(paragraphs))
  },
  contenders: [opening(100), opening(200, { wanted: { ratio: 2.2 }, most: { 'opened in, ms': 1500 } })],
}
