import { openHouse } from '../loopback/house'
import type { EngineDoor } from './forward'

/// The engine in a process of its own (an Electron utility process). It tells the shell where its door is,
/// and ends when it is told to.

/// What the shell says to the engine's process, and the other way round.
export type ToEngine = { readonly say: 'open'; readonly file: string } | { readonly say: 'end' }
export type FromEngine = { readonly say: 'ready'; readonly door: EngineDoor } | { readonly say: 'ended' }

interface ParentPort {
  on(event: 'message', listener: (message: { data: ToEngine }) => void): void
  postMessage(message: FromEngine): void
}

const parent = (process as unknown as { parentPort: ParentPort }).parentPort
const house = await openHouse({ log: (line) => void process.stderr.write(line + '\n') })

parent.on('message', ({ data }) => {
  if (data.say === 'open') {
    try {
      house.engine.workspace.open(data.file)
    } catch (error) {
      house.engine.workspace.fault(error, 'open')
    }
  } else {
    void house.close().finally(() => {
      parent.postMessage({ say: 'ended' })
      process.exit(0)
    })
  }
})
parent.postMessage({ say: 'ready', door: { origin: house.door.origin, key: house.door.key } })
