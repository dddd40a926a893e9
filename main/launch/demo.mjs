import './node-version.mjs'
import { join } from 'node:path'
import { build } from './build.mjs'
import { install } from './install.mjs'
import { root, run } from './step.mjs'

/// Installs, builds, then makes the demo footage and its film.
async function demo() {
  if (!(await install()) || !(await build())) return 3
  return (await run(process.execPath, [join(root, 'out', 'main', 'demo.js'), ...process.argv.slice(2)])).status
}

process.exitCode = await demo()
