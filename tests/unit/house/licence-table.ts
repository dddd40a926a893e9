import { readFileSync } from 'node:fs'
import { join } from 'node:path'

export const root = join(import.meta.dirname, '../../..')

export interface Dependency {
  readonly name: string
  readonly version: string
  readonly licence: string
  /// Where its code goes: into the program, only into making and testing it, or to a program that is
  /// started beside ours and can be done without.
  readonly use: 'runs' | 'builds' | 'optional'
}

/// Free to use in a program under the MIT licence, with their notices kept. A package that calls its licence "BSD" has
/// the two-clause text; where one may choose, we take the MIT licence.
export const permissive: ReadonlySet<string> = new Set([
  '0BSD',
  'Apache-2.0',
  'BSD',
  'BSD-2-Clause',
  'BSD-3-Clause',
  'BlueOak-1.0.0',
  'CC-BY-4.0',
  'CC0-1.0',
  'ISC',
  'MIT',
  'MIT AND OFL-1.1',
  'OFL-1.1',
  '(BSD-2-Clause OR MIT OR Apache-2.0)',
  '(MIT AND BSD)',
  '(MIT AND Zlib)',
  '(MIT OR GPL-3.0-or-later)',
  '(MIT OR WTFPL)',
])

/// Free to use as they come: what we changed in their own files we would have to publish, and we change nothing.
export const unchangedOnly: ReadonlySet<string> = new Set(['MPL-2.0'])

/// Fine for a tool that only builds or tests: no part of it is handed on.
export const forToolsOnly: ReadonlySet<string> = new Set([...permissive, 'BSD-4-Clause', 'MPL-2.0', 'Python-2.0'])

/// Only as programs of their own, started as separate processes; never loaded into ours. (BSD-4-Clause: its notice is
/// asked for in advertising.)
export const separateProcessOnly: ReadonlySet<string> = new Set([
  'BSD-4-Clause',
  'GPL-3.0',
  'GPL-3.0-or-later',
  'GPLv3',
  'LGPL-2.1',
  "GPL or LGPL (ffmpeg's own)",
])

/// The lock file carries no licence for these; read in the package itself, at this version.
const readInPackage: Readonly<Record<string, string>> = {
  'async@0.2.10': 'MIT',
  'jstat@1.9.6': 'MIT',
  'parse-cache-control@1.0.1': 'BSD-3-Clause',
  '@ffmpeg-installer/darwin-arm64@4.1.5': "GPL or LGPL (ffmpeg's own)",
}

interface LockEntry {
  readonly version: string
  readonly license?: string
  readonly dev?: boolean
  readonly optional?: boolean
  readonly devOptional?: boolean
}

/// Every package that the lock file names, on whatever machine, direct or not; by name and version.
export function dependencies(): readonly Dependency[] {
  const lock = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8')) as { packages: Record<string, LockEntry> }
  const found = new Map<string, Dependency>()
  for (const [path, entry] of Object.entries(lock.packages)) {
    if (path === '') continue
    const name = path.slice(path.lastIndexOf('node_modules/') + 'node_modules/'.length)
    const key = `${name}@${entry.version}`
    const use = entry.dev ? 'builds' : entry.optional || entry.devOptional ? 'optional' : 'runs'
    const before = found.get(key)
    if (before && rank[before.use] <= rank[use]) continue
    found.set(key, { name, version: entry.version, licence: readInPackage[key] ?? entry.license ?? 'unknown', use })
  }
  return [...found.values()].sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : a.version < b.version ? -1 : 1))
}

const rank = { runs: 0, optional: 1, builds: 2 }

const headings = {
  runs: ['In the program', 'Their code runs inside Claimframe.'],
  optional: [
    'Beside the program',
    'Optional: npm leaves them out where they cannot be fetched. Those under the GPL or LGPL are programs of their own (ffmpeg, ffprobe) and the packages that carry them; Claimframe starts them as separate processes and loads none of their code.',
  ],
  builds: ['To build and test it', 'Not part of the program.'],
} as const

export function licencePage(all: readonly Dependency[]): string {
  const sections = (['runs', 'optional', 'builds'] as const).map((use) => {
    const rows = all
      .filter((dependency) => dependency.use === use)
      .map(({ name, version, licence }) => `| ${name} | ${version} | ${licence} |`)
    return [`## ${headings[use][0]}`, '', headings[use][1], '', '| package | version | licence |', '|---|---|---|', ...rows, ''].join('\n')
  })
  return [
    '# Licences',
    '',
    'Our own code is under the MIT licence (`LICENSE`). Data and sound made by others lie in folders that carry their own notices.',
    '',
    'This page is made from the lock file by `npm test -- tests/unit/house/licences.test.ts -u`; a test fails when it is out of date or when a licence is not one that we know to be fine.',
    '',
    ...sections,
  ].join('\n')
}
