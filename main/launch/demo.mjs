import './node-version.mjs'
import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { build } from './build.mjs'
import { install } from './install.mjs'
import { root, run } from './step.mjs'

const made = join(root, 'demo-data', 'made')
const document = join(made, 'two-right-hands.json')
const film = join(made, 'two-right-hands.mp4')

/** @type {(script: string, ...words: string[]) => Promise<number>} */
const node = async (script, ...words) => (await run(process.execPath, [join(root, 'out', 'main', script), ...words])).status

/// Installs and builds; makes the demo footage, narration and breakdown; renders the film; writes captions and
/// stills; says where everything is; and opens the window where there is a screen.
async function demo() {
  if (!(await install()) || !(await build())) return 3
  for (const step of [
    () => node('demo.js'),
    () => node('cli.js', 'render', document, '--out', film),
    () => node('cli.js', 'export', document, '--captions', 'vtt,srt', '--stills', '--to', made),
  ]) {
    const status = await step()
    if (status !== 0) return status
  }
  process.stdout.write(
    [
      '',
      `The film:       ${film}`,
      `Its captions:   ${film.replace('.mp4', '.vtt')} and .srt`,
      `Stills of what it holds: ${join(made, 'two-right-hands-stills')}`,
      `Its breakdown:  ${document}`,
      '',
    ].join('\n'),
  )
  return process.argv.includes('--no-window') ? 0 : await openWindow()
}

/// The demo as a project in the window; nothing where there is no screen to show it on.
async function openWindow() {
  if (process.platform === 'linux' && !process.env.DISPLAY && !process.env.WAYLAND_DISPLAY) {
    process.stdout.write('There is no screen here; `npm start` opens the window where there is one.\n')
    return 0
  }
  const project = join(made, 'two-right-hands.claimframe')
  if (!existsSync(project)) {
    const status = await node('cli.js', 'create', project, '--from', document)
    if (status !== 0) return status
  }
  return node('cli.js', 'open', project)
}

process.exitCode = await demo()
