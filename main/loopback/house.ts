import { existsSync, readFileSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { openEngine, type Engine } from '../engine'
import { stateFolder } from '../engine/state-folder'
import { openDoor, type LoopbackDoor } from './door'
import { EngineNotes, type EngineNote } from './engine-notes'

/// An engine with its door open, as one program runs it.
export interface House {
  readonly engine: Engine
  readonly door: LoopbackDoor
  close(): Promise<void>
}

export interface HouseOptions {
  /// One line of the log, JSON without secrets.
  readonly log: (line: string) => void
  readonly state?: string
  readonly page?: string
}

export async function openHouse({ log, state = stateFolder(), page = builtPage() }: HouseOptions): Promise<House> {
  const notes = new EngineNotes(state)
  const write = (line: object): void => log(JSON.stringify({ at: new Date().toISOString(), ...line }))
  let note: EngineNote | null = null
  let door: LoopbackDoor | null = null
  const engine = openEngine({
    version: ownVersion(),
    page,
    stateFolder: state,
    log: write,
    onProject(project) {
      if (note) notes.remove(note)
      note = project && !project.readOnly && door ? { project: project.file, origin: door.origin, key: door.key, pid: process.pid } : null
      if (note) notes.write(note)
    },
  })
  door = await openDoor({
    engine: engine.answer,
    onRefused: (refused) => write({ what: 'refused', ...refused }),
    onFault: (error) => void engine.workspace.fault(error, 'door'),
  })
  const opened = door
  return {
    engine,
    door: opened,
    async close() {
      await engine.end()
      await opened.close()
    },
  }
}

/// The built window's folder: beside the built program, or `out/renderer` as seen from the sources.
export function builtPage(): string {
  const here = dirname(fileURLToPath(import.meta.url))
  const built = [join(here, '..', 'renderer'), join(here, '..', '..', 'renderer')].find(
    (folder) => basename(dirname(folder)) === 'out' && existsSync(folder),
  )
  return built ?? join(here, '..', '..', 'out', 'renderer')
}

function ownVersion(): string {
  const here = dirname(fileURLToPath(import.meta.url))
  for (let folder = here; dirname(folder) !== folder; folder = dirname(folder)) {
    const file = join(folder, 'package.json')
    if (!existsSync(file)) continue
    const { version } = JSON.parse(readFileSync(file, 'utf8')) as { version?: string }
    if (version) return version
  }
  return 'unknown'
}
