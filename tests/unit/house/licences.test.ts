import { existsSync, readFileSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { dependencies, forToolsOnly, licencePage, permissive, root, separateProcessOnly } from './licence-table'
import { sources } from './tree'

describe('the licences of what we depend on', () => {
  const all = dependencies()

  it('are all on the page', async () => {
    await expect(licencePage(all)).toMatchFileSnapshot(join(root, 'docs/licences.md'))
  })

  it('are permissive for all that runs in the program', () => {
    expect(all.filter(({ use, licence }) => use === 'runs' && !permissive.has(licence))).toEqual([])
  })

  it('are fine for tools, for all that only builds and tests it', () => {
    expect(all.filter(({ use, licence }) => use === 'builds' && !forToolsOnly.has(licence))).toEqual([])
  })

  it('are permissive or of programs of their own, for what is optional', () => {
    expect(all.filter(({ use, licence }) => use === 'optional' && !permissive.has(licence) && !separateProcessOnly.has(licence))).toEqual([])
  })

  it('say the same in each installed package as in the lock file', () => {
    const installed = all.filter(({ name, version, use }) => use === 'runs' && packageOf(name)?.version === version)
    expect(installed.length).toBeGreaterThan(10)
    for (const { name, licence } of installed) {
      const stated = packageOf(name)!
      expect([name, stated.license ?? stated.licenses?.map(({ type }) => type).join(' OR ')]).toEqual([name, licence])
    }
  })

  it('let no source load a package that may only run as a process of its own', () => {
    const names = all.filter(({ licence }) => separateProcessOnly.has(licence)).map(({ name }) => name)
    expect(names).toContain('ffmpeg-static')
    const loads = (text: string) => names.filter((name) => new RegExp(`(from|import|import\\(|require\\()\\s*['"]${name}['"/]`).test(text))
    expect(loads("const path = require('ffmpeg-static')")).toEqual(['ffmpeg-static'])
    expect(sources(['app', 'main', 'renderer', 'demo-data']).flatMap(({ path, text }) => loads(text).map((name) => `${path} loads ${name}`))).toEqual([])
  })

  it('lie beside every folder of data by others', () => {
    const folders = readdirSync(join(root, 'tests/data'), { withFileTypes: true }).filter((entry) => entry.isDirectory())
    const notice = /^(licen[cs]e|notice|readme)/i
    expect(folders.map(({ name }) => name).filter((name) => !readdirSync(join(root, 'tests/data', name)).some((file) => notice.test(file)))).toEqual([])
  })
})

function packageOf(name: string): { version: string; license?: string; licenses?: { type: string }[] } | undefined {
  const file = join(root, 'node_modules', name, 'package.json')
  return existsSync(file) ? (JSON.parse(readFileSync(file, 'utf8')) as { version: string }) : undefined
}
