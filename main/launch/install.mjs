import { spawnSync } from 'node:child_process'
import { existsSync, mkdirSync, readFileSync, renameSync, rmSync } from 'node:fs'
import { homedir } from 'node:os'
import { dirname, join } from 'node:path'
import { missingCompiler } from './machine.mjs'
import { duration, root, run, say } from './step.mjs'

/// Makes sure that `node_modules` holds what the lock file names, and that the database module loads
/// in this Node. Does nothing when it does already. Answers false, having said why, when it cannot.
export async function install() {
  const reason = whyInstall()
  if (reason === undefined) return true
  const started = Date.now()
  say(`Installing packages (${reason}); about a minute, three where the database module must be compiled.`)
  const log = join(root, 'out', 'install.log')
  const first = await npm(['ci', ...always], log)
  if (first.status !== 0) {
    if (native.test(first.output) || unreachable.test(first.output)) return explain(first.output, log)
    say('  npm ci did not succeed; trying npm install.')
    const second = await npm(['install', '--no-save', ...always], log)
    if (second.status !== 0) return explain(second.output, log)
  }
  // A module that was compiled for another Node survives `npm install`: compile it for this one.
  if (!databaseLoads()) {
    await npm(['rebuild', 'better-sqlite3'], log)
    if (!databaseLoads()) return explain(readFileSync(log, 'utf8'), log)
  }
  keepCompiled()
  say(`Installed in ${duration(Date.now() - started)}.`)
  return true
}

const always = ['--include=dev', '--include=optional', '--no-audit', '--no-fund']

/// Why an install is due, or undefined.
/** @returns {string | undefined} */
export function whyInstall(folder = root) {
  const installed = join(folder, 'node_modules', '.package-lock.json')
  if (!existsSync(installed)) return 'none are here yet'
  const behind = staleIn(readPackages(join(folder, 'package-lock.json')), readPackages(installed))
  if (behind !== undefined) return `${behind} is not as the lock file says`
  return databaseLoads(folder) ? undefined : 'the database module does not load in this Node'
}

/// The first package that the lock file names and the folder lacks or has in another version.
/// Optional ones are left out: npm drops them where they do not fit or cannot be fetched.
/**
 * @param {Packages} wanted
 * @param {Packages} found
 */
export function staleIn(wanted, found) {
  for (const [path, entry] of Object.entries(wanted)) {
    if (path === '' || entry.optional === true || entry.devOptional === true) continue
    if (found[path]?.version !== entry.version) return path.slice(path.lastIndexOf('node_modules/') + 'node_modules/'.length)
  }
  return undefined
}

/** @typedef {Record<string, { version?: string, optional?: boolean, devOptional?: boolean }>} Packages */

/** @param {string} file  @returns {Packages} */
function readPackages(file) {
  return JSON.parse(readFileSync(file, 'utf8')).packages ?? {}
}

function databaseLoads(folder = root) {
  const script = "new (require('better-sqlite3'))(':memory:').close()"
  return spawnSync(process.execPath, ['-e', script], { cwd: folder, stdio: 'ignore' }).status === 0
}

/** @param {readonly string[]} args  @param {string} log */
function npm(args, log) {
  const cli = process.env.npm_execpath
  const [command, first] = cli !== undefined && /npm-cli\.[cm]?js$/.test(cli) ? [process.execPath, [cli]] : ['npm', []]
  return run(command, [...first, ...args], {
    log,
    doing: `npm ${args[0]}`,
    env: npmEnvironment(),
    shell: command === 'npm' && process.platform === 'win32',
  })
}

function npmEnvironment() {
  /** @type {Record<string, string | undefined>} */
  const env = { npm_config_loglevel: 'notice', npm_config_better_sqlite3_local_prebuilds: compiledFolder() }
  // Node's own headers beside it spare the compiler a download.
  const beside = dirname(dirname(process.execPath))
  if (process.env.npm_config_nodedir === undefined && existsSync(join(beside, 'include', 'node', 'node.h'))) env.npm_config_nodedir = beside
  return env
}

/// Compiled database modules are kept in the user's cache folder, where the next install of the same
/// version for the same Node finds them. The cache can be deleted at any time.
function compiledFolder() {
  const cache =
    process.env.XDG_CACHE_HOME ??
    (process.platform === 'darwin'
      ? join(homedir(), 'Library', 'Caches')
      : process.platform === 'win32'
        ? (process.env.LOCALAPPDATA ?? join(homedir(), 'AppData', 'Local'))
        : join(homedir(), '.cache'))
  return join(cache, 'claimframe', 'compiled')
}

function keepCompiled() {
  const version = JSON.parse(readFileSync(join(root, 'node_modules', 'better-sqlite3', 'package.json'), 'utf8')).version
  // The name that prebuild-install looks for in a local folder.
  const file = join(
    compiledFolder(),
    `better-sqlite3-v${version}-node-v${process.versions.modules}-${process.platform}-${process.arch}.tar.gz`,
  )
  if (existsSync(file)) return
  const unfinished = `${file}.${process.pid}.part`
  try {
    mkdirSync(compiledFolder(), { recursive: true })
    const packed = spawnSync('tar', ['-czf', unfinished, 'build/Release/better_sqlite3.node'], {
      cwd: join(root, 'node_modules', 'better-sqlite3'),
      stdio: 'ignore',
    })
    if (packed.status === 0) renameSync(unfinished, file)
    else rmSync(unfinished, { force: true })
  } catch {
    // The cache only saves time: without it the next install compiles again.
    rmSync(unfinished, { force: true })
  }
}

const native = /gyp ERR!|prebuild-install/
const unreachable = /ENOTFOUND|ETIMEDOUT|ECONNREFUSED|ECONNRESET|EAI_AGAIN/

/** @param {string} output  @param {string} log */
function explain(output, log) {
  const compiler = native.test(output) ? missingCompiler() : undefined
  if (compiler !== undefined)
    say(`The database module (better-sqlite3) is not to be had ready-made here, and cannot be compiled. ${compiler}.`)
  else if (unreachable.test(output)) say('The npm registry could not be reached: check the connection and run the same command again.')
  else
    say(
      output
        .split('\n')
        .filter((line) => /error|ERR!/i.test(line))
        .slice(-12)
        .join('\n'),
    )
  say(`The install failed; everything it printed is in ${log}.`)
  return false
}
