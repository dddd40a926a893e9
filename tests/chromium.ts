import { chromium, type Browser } from 'playwright-core'
import { findBrowser } from '../main/cli/browser-window'

/// A browser of Chromium's kind without a display. Rejects with the line to run where there is none. As root
/// it runs without its sandbox, which refuses root: pages of tests are our own.
/// `more`: further arguments, such as a file for its microphone.
export async function startChromium(more: readonly string[] = []): Promise<Browser> {
  const executablePath = findBrowser()
  if (executablePath === null)
    throw new Error(
      'No Chromium-class browser was found: install one (Debian: apt-get install chromium), or name it in CLAIMFRAME_CHROMIUM.',
    )
  const quiet = [
    '--disable-gpu',
    '--disable-quic',
    '--no-first-run',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync',
  ]
  return chromium.launch({
    executablePath,
    headless: true,
    timeout: 120_000,
    args: [...quiet, ...more, ...(process.getuid?.() === 0 ? ['--no-sandbox'] : [])],
  })
}
