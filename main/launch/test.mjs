import './node-version.mjs'
import { build } from './build.mjs'
import { checkSources, runTests, sentence, testProjects } from './checks.mjs'
import { install } from './install.mjs'
import { missingBrowser } from './machine.mjs'
import { duration, say } from './step.mjs'

/// Everything that has to hold: types of every layer, lint, every project of tests.
/// `npm test -- unit outside` runs the named steps only; a path after them narrows the tests.
/// The last line on stdout is the count; the exit status is 0 only when nothing failed.
async function test() {
  const started = Date.now()
  const named = process.argv.slice(2)
  const steps = named.filter((name) => known.includes(name))
  const only = named.filter((name) => !known.includes(name))
  const chosen =
    steps.length > 0
      ? steps
      : only.length > 0
        ? testProjects.filter((project) => only.some((path) => path.includes(`tests/${project}/`)))
        : known
  if (chosen.length === 0) {
    say(`Steps are ${known.join(', ')}; a path is to start with tests/ and one of ${testProjects.join(', ')}.`)
    return 2
  }
  if (!(await install())) return 3
  const total = { passed: 0, failed: 0, skipped: 0 }
  const add = (/** @type {import('./checks.mjs').Count} */ count) => {
    total.passed += count.passed
    total.failed += count.failed
    total.skipped += count.skipped
  }
  const sources = chosen.filter((step) => step === 'types' || step === 'lint')
  if (sources.length > 0) add(await checkSources(sources))
  const projects = testProjects.filter((project) => chosen.includes(project))
  if (projects.length > 0 && !(await build())) add({ passed: 0, failed: 1, skipped: 0 })
  else for (const project of projects) add(await runTests(project, only))
  const browser = projects.includes('e2e') ? missingBrowser() : undefined
  if (browser !== undefined) say(browser)
  say(`All of it took ${duration(Date.now() - started)}.`)
  console.log(sentence(total))
  return total.failed === 0 ? 0 : 1
}

const known = ['types', 'lint', ...testProjects]

process.exitCode = await test()
