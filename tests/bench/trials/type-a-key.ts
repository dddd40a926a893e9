import { copyFile } from 'node:fs/promises'
import { join, resolve } from 'node:path'
import type { Locator, Page } from 'playwright-core'
import { build } from 'vite'
import type { Breakdown } from '../../../app/project/breakdown'
import { scriptToNode } from '../../../app/script/conversion'
import { startChromium } from '../../chromium'
import type { Comparison, Extras } from '../comparison'
import { makeProject, openProject, withWindow } from './large-window'
import { largeBreakdown } from './read-document'

const KEYS = 150
/// Longer than a key's work takes, shorter than a pause of the hand.
const BETWEEN_MS = 60

/// 200 paragraphs, 3,000 words, 100 live values.
function longScript(): Breakdown {
  const large = largeBreakdown()
  return {
    ...large,
    script: large.script.map((row, at) =>
      'text' in row
        ? {
            ...row,
            text: [
              'The lead knee is at ',
              ...(at % 2 === 0 ? [{ value: `m${at}` }] : ['that angle again']),
              ', and the weight has gone over it.',
            ],
          }
        : row,
    ),
  }
}

/// Types keys one at a time at the end of a paragraph; answers what each cost the page's main thread.
async function typeKeys(page: Page, paragraph: Locator): Promise<Extras> {
  await paragraph.evaluate((row) => getSelection()?.collapse(row, row.childNodes.length))
  const session = await page.context().newCDPSession(page)
  await session.send('Performance.enable')
  const spent = async (): Promise<number> =>
    ((await session.send('Performance.getMetrics')).metrics.find(({ name }) => name === 'TaskDuration')?.value ?? 0) * 1000
  const idle = async (): Promise<number> => {
    const before = await spent()
    await page.waitForTimeout(BETWEEN_MS)
    return (await spent()) - before
  }
  await page.waitForTimeout(2500)
  for (let i = 0; i < 20; i++) await page.keyboard.press('x', { delay: 10 })
  await page.waitForTimeout(1500)
  // What the asking itself and a resting page cost is taken off.
  const rest: number[] = []
  for (let i = 0; i < 20; i++) rest.push(await idle())
  const resting = [...rest].sort((a, b) => a - b)[10] ?? 0
  const each: number[] = []
  for (let i = 0; i < KEYS; i++) {
    const before = await spent()
    await page.keyboard.press('x')
    await page.waitForTimeout(BETWEEN_MS)
    each.push((await spent()) - before - resting)
  }
  each.sort((a, b) => a - b)
  return { milliseconds: each[Math.floor(KEYS / 2)] ?? 0, 'p95, ms': each[Math.floor(KEYS * 0.95)] ?? 0 }
}

export const typeAKey: Comparison = {
  name: 'type-a-key',
  question:
    'What a key costs the main thread of the page, typed into 200 paragraphs of 3,000 words with 100 live values (median of the keys): the Script room, sending every key to the engine, against a bare editor of the same document.',
  rounds: 5,
  async prepare(folder) {
    await makeProject(folder, 'long.claimframe', longScript())
    await build({
      logLevel: 'error',
      configFile: false,
      build: {
        outDir: join(folder, 'bare'),
        emptyOutDir: true,
        lib: { entry: resolve('tests/bench/trials/bare-editor.ts'), formats: ['iife'], name: 'bare', fileName: () => 'bare.js' },
      },
    })
  },
  contenders: [
    {
      name: 'bare editor',
      async run(folder) {
        const browser = await startChromium()
        try {
          const page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
          await page.setContent(
            '<!doctype html><style>body{font:20px/1.5 serif;margin:0 0 0 800px;white-space:pre-wrap}</style><body></body>',
          )
          await page.evaluate(
            (document) => {
              globalThis.bareDocument = document
            },
            scriptToNode(longScript().script).toJSON() as unknown,
          )
          await page.addScriptTag({ path: join(folder, 'bare', 'bare.js') })
          await page.locator('p').nth(3).click()
          return await typeKeys(page, page.locator('p').nth(3))
        } finally {
          await browser.close()
        }
      },
    },
    {
      name: 'the Script room',
      wanted: { ratio: 1.5 },
      over: { 'p95, ms': 8 },
      // Of each round its own copy: what was typed in one would make the paragraph longer in the next.
      run: (folder) =>
        withWindow(folder, `long-${crypto.randomUUID()}.claimframe`, async (page, file) => {
          await copyFile(join(folder, 'long.claimframe'), file)
          await openProject(page, file)
          await page.locator('canvas.picture').waitFor()
          await page.locator('.words p').nth(3).click()
          await page.locator('.words p').nth(3).and(page.locator('.in-hand')).waitFor()
          return typeKeys(page, page.locator('.words p').nth(3))
        }),
    },
  ],
}
