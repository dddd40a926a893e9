import type { Page } from 'playwright-core'
import { expect } from 'vitest'

/// Holds back the answers to edits that are made in `during`, and lets them go behind it. Resolves once all is kept.
export async function held(page: Page, during: () => Promise<unknown>): Promise<void> {
  let letGo = (): void => undefined
  const gate = new Promise<void>((done) => (letGo = done))
  let waiting = 0
  await page.route('**/call/edit.apply', async (route) => {
    waiting++
    await gate
    await route.continue()
  })
  try {
    await during()
    await expect.poll(() => waiting).toBeGreaterThan(0)
  } finally {
    letGo()
    await page.getByText('all saved', { exact: true }).waitFor()
    await page.unroute('**/call/edit.apply')
  }
}
