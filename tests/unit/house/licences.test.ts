import { existsSync, readFileSync, readdirSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { dependencies, forToolsOnly, licencePage, permissive, root, separateProcessOnly, unchangedOnly } from './licence-table'
import { files, sources } from './tree'

describe('the licences of what we depend on', () => {
  const all = dependencies()

  it('are all on the page', async () => {
    await expect(licencePage(all)).toMatchFileSnapshot(join(root, 'docs/licences.md'))
  })

  it('are permissive, or free to use unchanged, for all that runs in the program', () => {
    expect(all.filter(({ use, licence }) => use === 'runs' && !permissive.has(licence) && !unchangedOnly.has(licence))).toEqual([])
  })

  it('are fine for tools, for all that only builds and tests it', () => {
    expect(all.filter(({ use, licence }) => use === 'builds' && !forToolsOnly.has(licence))).toEqual([])
  })

  it('are permissive or of programs of their own, for what is optional', () => {
    expect(all.filter(({ use, licence }) => use === 'optional' && !permissive.has(licence) && !separateProcessOnly.has(licence))).toEqual(
      [],
    )
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
    expect(
      sources(['app', 'main', 'renderer', 'demo-data']).flatMap(({ path, text }) => loads(text).map((name) => `${path} loads ${name}`)),
    ).toEqual([])
  })

  it('lie beside all data by others', () => {
    const data = files(['tests/data', 'demo-data']).filter((path) => /\.(gz|wav|mp4|mkv|bvh|csv|otio|edl|txt|json|sqlite)$/.test(path))
    expect(data).toContain('tests/data/numeric/projection.json')
    const notice = /^(licen[cs]e|notice|readme)/i
    const bare = [...new Set(data.map((path) => dirname(path)))].filter(
      (folder) => !upwards(folder).some((above) => readdirSync(join(root, above)).some((name) => notice.test(name))),
    )
    expect(bare.filter((folder) => folder !== 'demo-data')).toEqual([])
  })
})

/// The folder and those above it, up to but without the one that holds all data.
function upwards(folder: string): readonly string[] {
  const steps = folder.split('/')
  const top = steps[0] === 'tests' ? 2 : 1
  return steps.map((_, at) => steps.slice(0, at + 1).join('/')).filter((_, at) => at >= top)
}

function packageOf(name: string): { version: string; license?: string; licenses?: { type: string }[] } | undefined {
  const file = join(root, 'node_modules', name, 'package.json')
  return existsSync(file) ? (JSON.parse(readFileSync(file, 'utf8')) as { version: string }) : undefined
}
