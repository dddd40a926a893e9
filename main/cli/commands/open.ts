import { existsSync } from 'node:fs'
import { dirname, join, resolve } from 'node:path'
import { fileURLToPath } from 'node:url'
import { CodedError } from '../../../app/errors/coded-error'
import { electronBinary } from '../../desktop/electron-binary'
import { stateFolder } from '../../engine/state-folder'
import { EngineNotes } from '../../loopback/engine-notes'
import type { House } from '../../loopback/house'
import { runProgram } from '../../media/process'
import { findBrowser, hasDisplay, showWindow } from '../browser-window'
import type { Command, CommandInput } from '../command'
import { FINE } from '../exit-status'

export const open: Command = {
  usage: 'open [project] [--print]',
  summary:
    'Opens the window: on the desktop where Electron is there, else in a browser window, else at the address that is printed. --print only prints the address.',
  options: { print: { type: 'boolean' } },
  async run(input) {
    const [project, ...rest] = input.positionals
    if (rest.length > 0) throw new CodedError('wrong-use', { problem: `Usage: claimframe ${open.usage}` })
    const file = project === undefined ? null : resolve(project)
    if (file !== null && !existsSync(file)) throw new CodedError('file-missing', { file })
    const printed = input.values['print'] === true || !hasDisplay()
    const electron = printed ? null : electronBinary()
    if (electron !== null) {
      await runProgram(electron, [desktopEntry(), ...(file === null ? [] : [file])], { signal: input.signal, what: 'the window' })
      return FINE
    }
    if (!printed) input.say('Electron’s program is not here, so the window opens in a browser.')
    const running = file === null ? null : await new EngineNotes(stateFolder()).attach(file)
    if (running !== null) return showAt(running, printed, input, null)
    // An engine is read only where none runs yet: a further window opens at once.
    const { openHouse } = await import('../../loopback/house')
    const house = await openHouse({ log: (line) => writeLog(line, input) })
    try {
      if (file !== null) house.engine.workspace.open(file)
      return await showAt(house.door.newAddress(), printed, input, house)
    } finally {
      await house.close()
    }
  },
}

/// Shows the window, or prints the address and waits. An engine of our own goes on until its window is
/// closed and its jobs have ended, or until it is interrupted.
async function showAt(address: string, printed: boolean, input: CommandInput, house: House | null): Promise<number> {
  const browser = printed ? null : findBrowser()
  if (browser === null) {
    input.print(input.json ? JSON.stringify({ address }) : `Open this in a browser, once, within ten minutes:\n  ${address}`)
    if (house) await interrupted(input.signal)
    return FINE
  }
  await showWindow(browser, address, join(stateFolder(), 'browser'), input.signal).catch((error: unknown) => {
    if (!input.signal.aborted) throw error
  })
  if (!input.signal.aborted) await house?.engine.workspace.jobs.settled()
  return FINE
}

function interrupted(signal: AbortSignal): Promise<void> {
  return new Promise((done) => {
    if (signal.aborted) return done()
    // The door alone keeps a program running only while someone is connected.
    const alive = setInterval(() => undefined, 60_000)
    signal.addEventListener(
      'abort',
      () => {
        clearInterval(alive)
        done()
      },
      { once: true },
    )
  })
}

/// Refusals are shown as they come; the rest of the log only where it was asked for.
function writeLog(line: string, input: CommandInput): void {
  if (process.env['CLAIMFRAME_TRACE'] || /"what":"(refused|fault)"/.test(line)) input.say(line)
}

const desktopEntry = (): string => {
  const here = dirname(fileURLToPath(import.meta.url))
  return (
    [join(here, 'desktop.js'), join(here, '..', 'desktop.js')].find((path) => existsSync(path)) ??
    join(here, '..', '..', '..', 'out', 'main', 'desktop.js')
  )
}
