import { execFile } from 'node:child_process'
import { existsSync } from 'node:fs'
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { cpus, release, tmpdir, totalmem, type as system } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { promisify } from 'node:util'
import type { Comparison, Extras } from './comparison'
import { median, page, type Measured, type Result } from './result'
import { comparisons } from './trials'

const here = fileURLToPath(import.meta.url)
const [mode, ...rest] = process.argv.slice(2)

if (mode === '--prepare') await find(rest[0]!).prepare?.(rest[1]!)
else if (mode === '--run') process.stdout.write(JSON.stringify(await measure(find(rest[0]!), Number(rest[1]), rest[2]!)))
else await runAll(process.argv.slice(2))

async function runAll(names: readonly string[]): Promise<void> {
  const chosen = names.length === 0 ? comparisons : names.map(find)
  for (const comparison of chosen) {
    process.stderr.write(`${comparison.name}: ${comparison.rounds} rounds of ${comparison.contenders.length}\n`)
    await keep(await compare(comparison))
  }
}

async function compare(comparison: Comparison): Promise<Result> {
  const folder = await mkdtemp(join(tmpdir(), 'claimframe-bench-'))
  try {
    await inProcess(['--prepare', comparison.name, folder])
    const measured: Measured[][] = comparison.contenders.map(() => [])
    for (let round = 0; round < comparison.rounds; round++) {
      // Every second round backwards, so that none always runs after the same other.
      const order = comparison.contenders.map((_, at) => (round % 2 === 0 ? at : comparison.contenders.length - 1 - at))
      for (const at of order) measured[at]!.push(JSON.parse(await inProcess(['--run', comparison.name, String(at), folder])) as Measured)
      process.stderr.write(
        `  round ${round + 1}: ${measured.map((runs, at) => `${comparison.contenders[at]!.name} ${Math.round(runs[round]!.milliseconds)} ms`).join(', ')}\n`,
      )
    }
    return {
      name: comparison.name,
      question: comparison.question,
      date: new Date().toISOString().slice(0, 10),
      machine: `${cpus()[0]?.model.trim()}, ${cpus().length} cores, ${Math.round(totalmem() / 2 ** 30)} GB, ${system()} ${release()}`,
      versions: [`Node ${process.versions.node}`, await comparison.programs?.(), await commit()].filter((text) => text).join(', '),
      contenders: comparison.contenders.map(({ name, wanted, most, over }, at) => ({
        name,
        wanted: wanted ?? null,
        ...(most ? { most } : {}),
        ...(over ? { over } : {}),
        milliseconds: measured[at]!.map((run) => Number(run.milliseconds.toFixed(3))),
        extras: medians(measured[at]!),
      })),
    }
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
}

async function measure(comparison: Comparison, at: number, folder: string): Promise<Measured> {
  const contender = comparison.contenders[at]!
  for (let n = 0; n < (contender.warmUps ?? 0); n++) await contender.run(folder)
  const started = performance.now()
  const extras: Extras = (await contender.run(folder)) ?? {}
  const around = performance.now() - started
  const { milliseconds = around, ...others } = extras
  return { milliseconds, extras: others }
}

function medians(runs: readonly Measured[]): Extras {
  return Object.fromEntries(Object.keys(runs[0]!.extras).map((what) => [what, median(runs.map((run) => run.extras[what]!))]))
}

async function inProcess(args: readonly string[]): Promise<string> {
  return (await promisify(execFile)(process.execPath, [here, ...args], { maxBuffer: 2 ** 26 })).stdout
}

async function commit(): Promise<string | undefined> {
  const git = async (...args: readonly string[]) => (await promisify(execFile)('git', [...args])).stdout.trim()
  try {
    const changed = (await git('status', '--porcelain', '--untracked-files=no', '--', 'app', 'main', 'renderer')) !== ''
    return `commit ${await git('rev-parse', '--short', 'HEAD')}${changed ? ' with changes' : ''}`
  } catch {
    // A tree that was unpacked, not cloned, has no commit to name.
    return undefined
  }
}

async function keep(result: Result): Promise<void> {
  const kept = join('docs', 'benchmarks.json')
  const before = existsSync(kept) ? (JSON.parse(await readFile(kept, 'utf8')) as Result[]) : []
  const known = comparisons.map(({ name }) => name)
  const all = [...before.filter(({ name }) => name !== result.name), result].filter(({ name }) => known.includes(name))
  all.sort((a, b) => known.indexOf(a.name) - known.indexOf(b.name))
  await writeFile(kept, `${JSON.stringify(all, null, 1)}\n`)
  await writeFile(join('docs', 'benchmarks.md'), page(all))
}

function find(name: string): Comparison {
  const found = comparisons.find((comparison) => comparison.name === name)
  if (!found) throw new Error(`No comparison is named ${name}; there are ${comparisons.map((one) => one.name).join(', ')}.`)
  return found
}
