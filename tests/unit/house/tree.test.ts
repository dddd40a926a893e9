import { readFileSync, readdirSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { root } from './licence-table'
import { files, sources } from './tree'

/// Written in pieces, so that this file does not hold what it looks for.
const machine = ['/' + 'work/', '/' + 'root/', '/' + 'home/', '/' + 'Users/', '/' + 'tmp/', '..' + '/shared']
const hosts = ['registry.' + 'npmjs.org', 'registry.' + 'yarnpkg.com', 'npm' + 'mirror.com', 'deb.' + 'debian.org']

describe('the tree', () => {
  const ours = sources().filter(({ path }) => !path.startsWith('tests/data/'))

  it('is read whole', () => {
    expect(ours.map(({ path }) => path)).toEqual(
      expect.arrayContaining(['app/result.ts', '.ci/run', 'README.md', 'package-lock.json', 'main/launch/install.mjs']),
    )
  })

  it('names no place of one machine', () => {
    expect(ours.flatMap(({ path, text }) => machine.filter((place) => text.includes(place)).map((place) => `${path}: ${place}`))).toEqual(
      [],
    )
  })

  it('names no registry host', () => {
    expect(ours.flatMap(({ path, text }) => hosts.filter((host) => text.includes(host)).map((host) => `${path}: ${host}`))).toEqual([])
  })

  it('fetches packages by name and content, from no address', () => {
    const lock = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8')) as {
      packages: Record<string, { resolved?: string; integrity?: string; version?: string }>
    }
    const packages = Object.entries(lock.packages).filter(([path]) => path !== '')
    expect(
      packages
        .filter(([, entry]) => entry.resolved !== undefined || !entry.integrity?.startsWith('sha512-') || !/^\d/.test(entry.version ?? ''))
        .map(([path]) => path),
    ).toEqual([])
  })

  it('asks for exact versions', () => {
    const all = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as Record<string, Record<string, string>>
    const asked = ['dependencies', 'devDependencies', 'optionalDependencies'].flatMap((kind) => Object.entries(all[kind]!))
    expect(asked.filter(([, version]) => !/^\d+\.\d+\.\d+(-[\w.]+)?$/.test(version))).toEqual([])
  })

  it('has only the folders that the plan names', () => {
    const folders = readdirSync(root, { withFileTypes: true }).filter((entry) => entry.isDirectory() && !entry.name.startsWith('.'))
    expect(
      folders
        .map(({ name }) => name)
        .filter((name) => !['app', 'main', 'renderer', 'tests', 'demo-data', 'docs', 'node_modules', 'out', 'coverage'].includes(name)),
    ).toEqual([])
  })

  it('carries at most 8 MB for the demo; its films are made, not kept', () => {
    const bytes = files(['demo-data']).reduce((sum, path) => sum + statSync(join(root, path)).size, 0)
    expect(bytes).toBeGreaterThan(0)
    expect(bytes).toBeLessThan(8_000_000)
  })

  it('turns no test off, but for one that another system is for', () => {
    const off = /\b(it|test|describe|suite)(\.\w+)*\.(skip|only|todo|fails|skipIf)\b|\.runIf\((?!process\.platform [!=]== )|\bskip\(/
    expect(
      ["it.skip('x', f)", 'describe.only(', "it.each([1]).skip('x')", 'it.runIf(process.env.FAST)(', 'context.skip()'].filter(
        (text) => !off.test(text),
      ),
    ).toEqual([])
    expect(
      sources(['tests'])
        .filter(({ path, text }) => path !== 'tests/unit/house/tree.test.ts' && off.test(text))
        .map(({ path }) => path),
    ).toEqual([])
  })

  it('names no file for a drawer of odds and ends', () => {
    expect(ours.map(({ path }) => path).filter((path) => /(^|\/)(utils?|helpers?|common|misc|manager)(\.|\/)/.test(path))).toEqual([])
  })
})
