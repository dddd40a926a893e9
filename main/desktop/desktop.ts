import { app, BrowserWindow, dialog, Menu, net, protocol, session, shell, utilityProcess, type UtilityProcess } from 'electron'
import { existsSync } from 'node:fs'
import { dirname, join, resolve } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { FromEngine, ToEngine } from './engine-process'
import { forward, type EngineDoor } from './forward'
import { mayHave, mayNavigate, mayOpenBeside, mayOpenOutside } from './limits'
import { leaveQuestion, leavesAllTheSame } from './leave-question'
import { menus } from './menu'
import { answerShellCall, shellCallOf, withShell, type Desktop } from './shell-calls'
import { reportOptions, scheme, SCHEME, WINDOW_ADDRESS, windowOptions } from './window-options'
import type { Job } from '../../app/contract/work-calls'

const here = dirname(fileURLToPath(import.meta.url))
const developing = !app.isPackaged

protocol.registerSchemesAsPrivileged([scheme])
app.enableSandbox()

if (!app.requestSingleInstanceLock()) app.quit()
else void run()

async function run(): Promise<void> {
  await app.whenReady()
  const engine = await startEngine()
  const project = projectIn(process.argv)
  if (project !== null) engine.tell({ say: 'open', file: project })
  serve(engine.door)
  limit()
  openWindow()
  app.on('second-instance', (_event, words) => {
    const another = projectIn(words)
    if (another !== null) engine.tell({ say: 'open', file: another })
    BrowserWindow.getAllWindows()[0]?.show()
  })
  app.on('activate', () => {
    if (BrowserWindow.getAllWindows().length === 0) openWindow()
  })
  app.on('window-all-closed', () => app.quit())
  let ended = false
  app.on('will-quit', (event) => {
    if (ended) return
    event.preventDefault()
    void engine.end().then(() => {
      ended = true
      app.quit()
    })
  })
}

interface Engine {
  readonly door: EngineDoor
  tell(message: ToEngine): void
  end(): Promise<void>
}

async function startEngine(): Promise<Engine> {
  const child: UtilityProcess = utilityProcess.fork(join(here, 'engine-process.js'), [], { serviceName: 'Claimframe engine' })
  const door = await new Promise<EngineDoor>((done, failed) => {
    child.once('exit', (code) => failed(new Error(`the engine ended with status ${code}`)))
    child.on('message', (message: FromEngine) => {
      if (message.say === 'ready') done(message.door)
    })
  })
  const gone = new Promise<void>((done) => child.once('exit', () => done()))
  return {
    door,
    tell: (message) => child.postMessage(message),
    async end() {
      child.postMessage({ say: 'end' } satisfies ToEngine)
      const patience = setTimeout(() => child.kill(), 10_000)
      await gone
      clearTimeout(patience)
    },
  }
}

/// The window's scheme: the shell's own calls are answered here, all else goes to the engine's door.
function serve(door: EngineDoor): void {
  const send = (address: string, init: RequestInit): Promise<Response> =>
    net.fetch(address, { ...init, bypassCustomProtocolHandlers: true })
  const desktop: Desktop = {
    chooseFiles: async (options) => (await dialog.showOpenDialog(options)).filePaths,
    chooseTarget: async (options) => (await dialog.showSaveDialog(options)).filePath || null,
    showInFolder: (file) => shell.showItemInFolder(file),
    async jobs() {
      const answer = await forward(
        new Request(`${WINDOW_ADDRESS}call/jobs.list`, { method: 'POST', body: '{}', headers: { 'content-type': 'application/json' } }),
        door,
        send,
      )
      return ((await answer.json()) as { value: { jobs: Job[] } }).value.jobs
    },
  }
  protocol.handle(SCHEME, async (request) => {
    const own = shellCallOf(request.url)
    if (own !== null) return answerShellCall(own, request, desktop)
    const answer = await forward(request, door, send)
    return new URL(request.url).pathname === '/call/engine.about' ? withShell(answer) : answer
  })
}

/// What pages may not do, for every page that there is.
function limit(): void {
  const own = session.defaultSession
  own.setPermissionRequestHandler((_contents, permission, answer, details) =>
    answer(mayHave(permission, details.requestingUrl, 'mediaTypes' in details ? (details.mediaTypes ?? []) : [])),
  )
  own.setPermissionCheckHandler((_contents, permission, origin, details) =>
    mayHave(permission, origin, details.mediaType === undefined ? [] : [details.mediaType]),
  )
  own.setDevicePermissionHandler(() => false)
  app.on('web-contents-created', (_event, contents) => {
    contents.on('will-navigate', (event) => {
      if (!mayNavigate(event.url)) event.preventDefault()
    })
    contents.on('will-redirect', (event) => {
      if (!mayNavigate(event.url)) event.preventDefault()
    })
    contents.on('will-attach-webview', (event) => event.preventDefault())
    contents.on('did-create-window', (report) => printable(report))
    contents.setWindowOpenHandler(({ url }) => {
      if (mayOpenBeside(url)) return { action: 'allow', overrideBrowserWindowOptions: reportOptions(developing) }
      if (mayOpenOutside(url)) void shell.openExternal(url)
      return { action: 'deny' }
    })
  })
}

/// A report is read and printed, by the keys that every page is.
function printable(report: BrowserWindow): void {
  report.setMenu(null)
  report.webContents.on('before-input-event', (event, { type, key, control, meta }) => {
    if (type !== 'keyDown' || !(process.platform === 'darwin' ? meta : control)) return
    if (key.toLowerCase() === 'p') report.webContents.print()
    else if (key.toLowerCase() === 'w') report.close()
    else return
    event.preventDefault()
  })
}

function openWindow(): void {
  const window = new BrowserWindow(windowOptions(join(here, '..', 'preload', 'preload.cjs'), developing))
  Menu.setApplicationMenu(
    Menu.buildFromTemplate(menus((command) => window.webContents.send('menu', command), process.platform === 'darwin')),
  )
  window.once('ready-to-show', () => window.show())
  // The page holds a close or a reload back while something is not saved; Electron itself asks nobody.
  window.webContents.on('will-prevent-unload', (event) => {
    if (leavesAllTheSame(dialog.showMessageBoxSync(window, leaveQuestion))) event.preventDefault()
  })
  void window.loadURL(WINDOW_ADDRESS)
}

/// The project among the words that the program was started with.
function projectIn(words: readonly string[]): string | null {
  const last = words
    .slice(1)
    .filter((word) => !word.startsWith('-'))
    .at(-1)
  return last !== undefined && !/\.[cm]?js$/.test(last) && existsSync(last) && last !== '.' ? resolve(last) : null
}
