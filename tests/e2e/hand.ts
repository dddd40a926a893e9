import type { Locator, Page } from 'playwright-core'

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
      await page.keyboard.type(words)
      await page.keyboard.press('Enter')
      await list.evaluate((node, wanted) => {
        const chosen = (node as HTMLSelectElement).selectedOptions[0]?.textContent
        if (chosen !== wanted && (node as HTMLSelectElement).value !== '') throw new Error(`“${chosen}” is chosen, not “${wanted}”`)
      }, words)
    },
  }
}
