import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { _electron, type ElectronApplication, type Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { electronBinary } from '../../main/desktop/electron-binary'

/// The built shell in Electron itself. Run by `npm test -- desktop` where Electron's binary is.

let shell: ElectronApplication
let window: Page
let folder: string

beforeAll(async () => {
  const executablePath = electronBinary()
  if (executablePath === null) throw new Error('not run: no Electron binary')
  folder = mkdtempSync(join(tmpdir(), 'claimframe-desktop-'))
  shell = await _electron.launch({
    executablePath,
    args: [join(import.meta.dirname, '../../out/main/desktop.js')],
    env: { ...process.env, CLAIMFRAME_STATE: join(folder, 'state') } as Record<string, string>,
  })
  window = await shell.firstWindow()
})
afterAll(async () => {
  await shell.close()
  rmSync(folder, { recursive: true, force: true })
})

it('shows the window on its own scheme, in a sandbox, with two functions of ours', async () => {
  expect(window.url()).toBe('claimframe://window/')
  expect(
    await window.evaluate(() => [
      typeof (globalThis as { require?: unknown }).require,
      typeof (globalThis as { process?: unknown }).process,
    ]),
  ).toEqual(['undefined', 'undefined'])
  expect(await window.evaluate(() => Object.keys((globalThis as unknown as { claimframeDesktop: object }).claimframeDesktop))).toEqual([
    'onMenu',
    'pathOf',
  ])
  const preferences = await shell.evaluate(({ BrowserWindow }) =>
    (BrowserWindow.getAllWindows()[0]!.webContents as unknown as { getLastWebPreferences(): object }).getLastWebPreferences(),
  )
  expect(preferences).toMatchObject({ sandbox: true, contextIsolation: true, nodeIntegration: false, webSecurity: true, webviewTag: false })
})

it('reaches the engine without seeing port, cookie or key', async () => {
  const answer = await window.evaluate(async () => {
    const asked = await fetch('call/engine.about', { method: 'POST', headers: { 'content-type': 'application/json' }, body: '{}' })
    return {
      status: asked.status,
      policy: asked.headers.get('content-security-policy'),
      body: (await asked.json()) as { value: object },
      cookie: document.cookie,
    }
  })
  expect(answer).toMatchObject({ status: 200, body: { value: { fileDialog: true } }, cookie: '' })
  expect(answer.policy).toMatch(/^default-src 'none'/)
})

it('answers ranges exactly', async () => {
  const part = await window.evaluate(async () => {
    const answer = await fetch('index.html', { headers: { range: 'bytes=0-8' } })
    return { status: answer.status, range: answer.headers.get('content-range'), text: await answer.text() }
  })
  expect(part).toMatchObject({ status: 206, text: '<!doctype' })
  expect(part.range).toMatch(/^bytes 0-8\/\d+$/)
})

it('goes nowhere else and opens nothing', async () => {
  await window.evaluate(() => {
    location.href = 'https://films.example/'
  })
  await window.waitForTimeout(300)
  expect(window.url()).toBe('claimframe://window/')
  expect(await window.evaluate(() => globalThis.open('about:blank'))).toBeNull()
  expect(shell.windows()).toHaveLength(1)
})

it('opens the report of a published version in a window of its own, without anything of ours', async () => {
  const [report] = await Promise.all([
    shell.waitForEvent('window'),
    window.evaluate(() => void globalThis.open('kept/release-1/evidence.html', '_blank', 'noreferrer')),
  ])
  expect(report.url()).toBe('claimframe://window/kept/release-1/evidence.html')
  expect(await report.evaluate(() => typeof (globalThis as { claimframeDesktop?: unknown }).claimframeDesktop)).toBe('undefined')
  await report.close()
})
