import type { Locator, Page } from 'playwright-core'
import { expect } from 'vitest'

/// How a person reaches things in the window: by pointer, or by keys alone.
export interface Hand {
  /// Presses a button.
  press(button: Locator): Promise<void>
  /// Fills a field and sets it.
  fill(field: Locator, text: string): Promise<void>
  /// Chooses an option by its words.
  choose(list: Locator, words: string): Promise<void>
  /// Goes to an element.
  goTo(element: Locator): Promise<void>
}

export const pointerHand: Hand = {
  press: (button) => button.click(),
  async fill(field, text) {
    await field.click()
    await field.fill(text)
  },
  async choose(list, words) {
    await list.selectOption({ label: words })
  },
  goTo: (element) => element.click(),
}

/// Keys alone: the element is reached by Tab, from wherever the focus is.
export const keyHand = (page: Page): Hand => {
  const goTo = async (element: Locator): Promise<void> => {
    await element.waitFor({ state: 'attached' })
    for (let i = 0; i < 400; i++) {
      if (await element.evaluate((node) => node === document.activeElement)) return
      await page.keyboard.press('Tab')
    }
    throw new Error(`Tab never reaches ${element}`)
  }
  return {
    goTo,
    async press(button) {
      await goTo(button)
      await page.keyboard.press('Enter')
    },
    async fill(field, text) {
      await goTo(field)
      await page.keyboard.press('Control+a')
      await page.keyboard.type(text)
    },
    async choose(list, words) {
      await goTo(list)
      const offered = (): Promise<string[]> => list.locator('option:not([disabled])').allTextContents()
      await expect.poll(offered).toContain(words)
      const options = await offered()
      // As many letters as tell it from the others.
      const letters =
        Array.from({ length: words.length }, (_, i) => words.slice(0, i + 1)).find((part) =>
          options.every((option) => option === words || !option.toLowerCase().startsWith(part.toLowerCase())),
        ) ?? words
      if (/^[ -~]+$/.test(letters)) await page.keyboard.type(letters.split(' ')[0]!)
      if (/^[ -~]$/.test(letters)) return
      // A list takes letters that come more than a second apart for two words, and a space then opens it: the arrows go the rest of the way.
      const by =
        options.indexOf(words) -
        options.indexOf(await list.evaluate((node) => (node as HTMLSelectElement).selectedOptions[0]?.textContent ?? ''))
      for (let i = 0; i < Math.abs(by); i++) await page.keyboard.press(by > 0 ? 'ArrowDown' : 'ArrowUp')
    },
  }
}
