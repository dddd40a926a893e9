import axe from 'axe-core'
import type { Page } from 'playwright-core'

/// What axe finds on the page as it stands: the rule, and the first element that breaks it.
export async function barriersOn(page: Page): Promise<string[]> {
  await page.evaluate(axe.source)
  const found = (await page.evaluate('axe.run(document, { resultTypes: ["violations"] })')) as {
    violations: { id: string; nodes: { html: string }[] }[]
  }
  return found.violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html.slice(0, 200)}`)
}
