import { existsSync, readFileSync, readdirSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { duration, root, run, say } from './step.mjs'

/// One layer, one TypeScript project.
export const layers = ['app', 'main', 'renderer', 'tests', 'demo-data', 'main/launch']

/// The projects of tests/vitest.config.ts, quick ones first.
export const testProjects = ['unit', 'outside', 'render', 'faults', 'e2e', 'desktop']

/** @typedef {{ passed: number, failed: number, skipped: number }} Count */

/// What takes longest first, so that no core is left without work at the end.
const longestFirst = ['tests', 'renderer', 'main', 'lint', 'form', 'app', 'demo-data', 'main/launch']

/// What is checked of the whole tree, beside the types of each layer.
const wholeTree = {
  lint: [binary('eslint', 'bin/eslint.js'), '.', '--max-warnings', '0'],
  form: [binary('prettier', 'bin/prettier.cjs'), '.', '--check', '--log-level', 'warn'],
}

/// Type checks of every layer, and over the whole tree the linter, which also holds the rules of which layer may import
/// what, and the form of the code: those of `steps` (types, lint), two at a time. Each shows its words whole when it has ended; each that fails counts
/// as one failure.
/** @param {readonly string[]} steps  @returns {Promise<Count>} */
export async function checkSources(steps) {
  const started = Date.now()
  const waiting = [...(steps.includes('types') ? layers : []), ...(steps.includes('lint') ? Object.keys(wholeTree) : [])].sort(
    (a, b) => longestFirst.indexOf(a) - longestFirst.indexOf(b),
  )
  let failed = 0
  const work = async () => {
    for (let next = waiting.shift(); next !== undefined; next = waiting.shift()) {
      const whole = next === 'lint' || next === 'form' ? wholeTree[next] : null
      const [name, command] = whole ? [next, whole] : [`types of ${next}`, [binary('typescript', 'bin/tsc'), '-p', next]]
      const { status, output } = await run(process.execPath, command, { log: logOf(name.replaceAll(/[ /]/g, '-')) })
      if (status !== 0) failed++
      say(status === 0 ? `  ${name}: fine` : `  ${name}: wrong\n${output}`)
    }
  }
  await Promise.all([work(), work()])
  const what = steps.join(' and ')
  say(`${what[0]?.toUpperCase()}${what.slice(1)}: ${failed === 0 ? 'fine' : `wrong in ${failed}`}, ${duration(Date.now() - started)}.`)
  return { passed: 0, failed, skipped: 0 }
}

/// One project of tests, or part of it. The count comes from the runner's own report; a run that ended
/// badly with no failed test in it (a file that does not load, a crash) counts as one failure.
/** @param {string} project  @param {readonly string[]} [only]  @returns {Promise<Count>} */
export async function runTests(project, only = []) {
  if (!holdsTests(join(root, 'tests', project))) {
    say(`No tests in tests/${project}.`)
    return { passed: 0, failed: 0, skipped: 0 }
  }
  if (project === 'desktop' && !existsSync(join(root, 'node_modules', 'electron', 'dist'))) {
    say('Tests of desktop: not run: no Electron binary.')
    return { passed: 0, failed: 0, skipped: 0 }
  }
  const started = Date.now()
  const report = join(root, 'out', 'tests', `${project}.json`)
  rmSync(report, { force: true })
  const { status } = await run(process.execPath, [
    binary('vitest', 'vitest.mjs'),
    'run',
    ...['--config', join('tests', 'vitest.config.ts')],
    ...['--project', project],
    ...['--reporter=default', '--reporter=json', `--outputFile.json=${report}`],
    ...only,
  ])
  const count = countReport(existsSync(report) ? readFileSync(report, 'utf8') : '', status)
  say(`Tests of ${project}: ${sentence(count)}, ${duration(Date.now() - started)}.`)
  return count
}

/// The count of a vitest report in JSON. Skipped are those that another system than this one is for
/// (no test is turned off otherwise: the house tests see to that); a test that is only planned has failed.
/** @param {string} json  @param {number} status  @returns {Count} */
export function countReport(json, status) {
  const report = json === '' ? {} : JSON.parse(json)
  const passed = report.numPassedTests ?? 0
  const failed = (report.numFailedTests ?? 0) + (report.numTodoTests ?? 0)
  return { passed, failed: failed === 0 && (status !== 0 || passed === 0) ? 1 : failed, skipped: report.numPendingTests ?? 0 }
}

/// `12 passed, 0 failed`, with the skipped where there are any.
/** @param {Count} count */
export function sentence({ passed, failed, skipped }) {
  return `${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`
}

/** @param {string} folder */
function holdsTests(folder) {
  return existsSync(folder) && readdirSync(folder, { recursive: true }).some((name) => String(name).endsWith('.test.ts'))
}

/** @param {string} name */
function logOf(name) {
  return join(root, 'out', 'tests', `${name}.log`)
}

/** @param {string} name  @param {string} file */
function binary(name, file) {
  return join(root, 'node_modules', name, file)
}
