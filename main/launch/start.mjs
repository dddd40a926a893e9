import './node-version.mjs'
import { join } from 'node:path'
import { build } from './build.mjs'
import { install } from './install.mjs'
import { root, run } from './step.mjs'

/// Installs, builds, then opens the window.
async function start() {
  if (!(await install()) || !(await build())) return 3
  return (await run(process.execPath, [join(root, 'out', 'main', 'cli.js'), 'open', ...process.argv.slice(2)])).status
}

process.exitCode = await start()
