import { accessSync, constants } from 'node:fs'
import { delimiter, join } from 'node:path'
import { runProgram } from '../media/process'

const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'microsoft-edge', 'brave-browser']
const PLACES = [
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
]

/// A browser of Chromium's kind: the environment's (`CLAIMFRAME_CHROMIUM`), else the first that is found.
export function findBrowser(): string | null {
  const named = process.env['CLAIMFRAME_CHROMIUM']
  if (named) return named
  const onPath = NAMES.flatMap((name) => (process.env['PATH'] ?? '').split(delimiter).map((folder) => join(folder, name)))
  return [...onPath, ...PLACES].find(isProgram) ?? null
}

/// Whether a window can be shown at all. Browsers refuse to run as root with their sandbox on, and
/// without it we do not start one.
export function hasDisplay(): boolean {
  if (process.getuid?.() === 0) return false
  if (process.platform !== 'linux') return process.env['SSH_CONNECTION'] === undefined
  return Boolean(process.env['DISPLAY'] ?? process.env['WAYLAND_DISPLAY'])
}

/// Shows the address in a window of its own; resolves when that is closed.
export async function showWindow(browser: string, address: string, profile: string, signal: AbortSignal): Promise<void> {
  await runProgram(
    browser,
    [
      `--app=${address}`,
      `--user-data-dir=${profile}`,
      '--no-first-run',
      '--no-default-browser-check',
      '--disable-sync',
      '--disable-background-networking',
      '--disable-component-update',
    ],
    { signal, what: 'the window' },
  )
}

function isProgram(path: string): boolean {
  try {
    accessSync(path, constants.X_OK)
    return true
  } catch {
    return false
  }
}
