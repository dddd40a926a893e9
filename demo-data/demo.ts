import { join } from 'node:path'
import { makeDemo } from './make-demo'
import { demoFolder } from './place'

/// `npm run demo`, after the build: makes what the demo film is made of.

const started = Date.now()
let last = 0
const demo = await makeDemo({
  folder: join(demoFolder(), 'made'),
  onProgress: (line) => {
    if (Date.now() - last < 1000) return
    last = Date.now()
    process.stderr.write(`${line}\n`)
  },
})
process.stderr.write(`made in ${((Date.now() - started) / 1000).toFixed(1)} s\n`)
process.stdout.write(`${demo.document}\n`)
