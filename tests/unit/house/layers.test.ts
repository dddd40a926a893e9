import { ESLint } from 'eslint'
import { readdirSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'

const root = join(import.meta.dirname, '../../..')
const eslint = new ESLint({ cwd: root })

/// The lint's messages on a made-up source, as if it lay at that place.
async function lint(place: string, source: string): Promise<string[]> {
  const [result] = await eslint.lintText(source, { filePath: join(root, place) })
  return result!.messages.map((message) => message.message)
}

const forms = {
  'an import': (from: string) => `import { x } from '${from}'\nexport const y = x\n`,
  'an import for its effect': (from: string) => `import '${from}'\n`,
  'a type import': (from: string) => `import type { X } from '${from}'\nexport type Y = X\n`,
  'a re-export': (from: string) => `export { x } from '${from}'\n`,
  'a re-export of everything': (from: string) => `export * from '${from}'\n`,
  'a late import': (from: string) => `export const load = () => import('${from}')\n`,
  'a type named in place': (from: string) => `export type Y = import('${from}').X\n`,
  'a require': (from: string) => `export const x = require('${from}')\n`,
  'an import equals': (from: string) => `import x = require('${from}')\nexport const y = x\n`,
}

/// [where, what is imported, what the lint answers]
const forbidden: readonly (readonly [string, string, RegExp])[] = [
  ['app/time/made-up.ts', 'node:fs', /no Node here/],
  ['app/time/made-up.ts', 'fs', /no Node here/],
  ['app/time/made-up.ts', 'fs/promises', /no Node here/],
  ['app/time/made-up.ts', 'node:child_process', /processes are started/],
  ['app/render/made-up.ts', 'better-sqlite3', /SQL lives in main\/store/],
  ['app/render/made-up.ts', 'electron', /electron stays in main\/desktop/],
  ['app/render/made-up.ts', 'react', /React belongs to renderer/],
  ['app/render/made-up.ts', 'react/jsx-runtime', /React belongs to renderer/],
  ['app/script/made-up.ts', 'prosemirror-state', /the editor belongs to renderer/],
  ['app/script/made-up.ts', 'prosemirror-view', /the editor belongs to renderer/],
  ['app/programme/made-up.ts', 'prosemirror-model', /documents live in/],
  ['app/programme/made-up.ts', 'prosemirror-transform', /documents live in/],
  ['app/render/made-up.ts', '../../main/render/queue', /main is imported by main/],
  ['app/render/made-up.ts', '../../renderer/player/player', /renderer is imported by renderer/],
  ['app/render/made-up.ts', '../../tests/film-patterns', /nothing imports tests/],
  ['app/render/made-up.ts', '../../demo-data/mocap/bvh', /nothing imports the demo/],
  ['app/script/claims/made-up.ts', '../../../main/engine', /main is imported by main/],
  ['app/result.ts', './time/ticks', /downward only/],
  ['app/time/made-up.ts', '../measure/reading', /downward only/],
  ['app/geometry/made-up.ts', '../programme/programme', /downward only/],
  ['app/script/claims/made-up.ts', '../../contract/calls', /downward only/],
  ['main/store/made-up.ts', 'electron', /electron stays in main\/desktop/],
  ['main/store/made-up.ts', 'node:child_process', /processes are started/],
  ['main/desktop/made-up.ts', 'better-sqlite3', /SQL lives in main\/store/],
  ['main/desktop/made-up.ts', 'child_process', /processes are started/],
  ['main/media/probe.ts', 'fluent-ffmpeg', /processes are started/],
  ['main/media/process.ts', 'better-sqlite3', /SQL lives in main\/store/],
  ['main/render/made-up.ts', 'better-sqlite3', /SQL lives in main\/store/],
  ['main/render/made-up.ts', 'electron', /electron stays in main\/desktop/],
  ['main/render/made-up.ts', 'electron/main', /electron stays in main\/desktop/],
  ['main/render/made-up.ts', 'react-dom/client', /React belongs to renderer/],
  ['main/render/made-up.ts', 'prosemirror-view', /the editor belongs to renderer/],
  ['main/render/made-up.ts', 'prosemirror-model', /documents live in/],
  ['main/render/made-up.ts', '../../renderer/state/replica', /renderer is imported by renderer/],
  ['main/render/made-up.ts', '../../tests/film-patterns', /nothing imports tests/],
  ['main/cli/made-up.ts', '../../demo-data/mocap/bvh', /nothing imports the demo/],
  ['renderer/player/made-up.tsx', '../../main/engine', /main is imported by main/],
  ['renderer/player/made-up.tsx', 'node:path', /no Node here/],
  ['renderer/player/made-up.ts', 'electron', /electron stays in main\/desktop/],
  ['renderer/player/made-up.ts', 'better-sqlite3', /SQL lives in main\/store/],
  ['renderer/player/made-up.ts', 'fluent-ffmpeg', /processes are started/],
  ['renderer/player/made-up.ts', '../../tests/film-patterns', /nothing imports tests/],
  ['demo-data/made-up.ts', '../renderer/window', /renderer is imported by renderer/],
  ['demo-data/made-up.ts', 'node:child_process', /processes are started/],
  ['demo-data/made-up.ts', '../tests/film-patterns', /nothing imports tests/],
]

describe('the lint', () => {
  for (const [place, from, answer] of forbidden)
    it(`refuses ${from} in ${place}, however it is imported`, async () => {
      for (const [form, write] of Object.entries(forms))
        expect(await lint(place, write(from)), form).toContainEqual(expect.stringMatching(answer))
    })

  it.each([
    ['app/measure/made-up.ts', '../geometry/angle'],
    ['app/measure/made-up.ts', '../result'],
    ['app/script/claims/made-up.ts', '../../measure/reading'],
    ['app/script/made-up.ts', 'prosemirror-model'],
    ['app/edit/made-up.ts', 'prosemirror-transform'],
    ['app/project/made-up.ts', 'zod'],
    ['main/store/made-up.ts', 'better-sqlite3'],
    ['main/desktop/made-up.ts', 'electron'],
    ['main/media/process.ts', 'node:child_process'],
    ['main/media/process.ts', 'fluent-ffmpeg'],
    ['main/render/made-up.ts', '../../app/programme/programme'],
    ['main/render/made-up.ts', '../media/process'],
    ['renderer/script/made-up.tsx', 'react'],
    ['renderer/script/made-up.tsx', 'prosemirror-view'],
    ['renderer/script/made-up.tsx', '../../app/programme/programme'],
    ['demo-data/made-up.ts', '../main/media/process'],
    ['demo-data/made-up.ts', 'node:fs'],
  ])('lets %s import %s', async (place, from) => {
    for (const form of ['an import', 'a type import', 'a re-export', 'a late import'] as const)
      expect(await lint(place, forms[form](from)), form).toEqual([])
  })

  it.each([
    ['app/time/made-up.ts', 'export const now = Date.now()\n', /the clock comes in/],
    ['app/time/made-up.ts', 'export const now = new Date()\n', /the clock comes in/],
    ['app/result.ts', 'export const x = Math.random()\n', /the seed comes in/],
    ['main/jobs/made-up.ts', "const name = 'electron'\nexport const x = import(name)\n", /name what is imported/],
    ['main/jobs/made-up.ts', "const name = 'electron'\nexport const x = require(name)\n", /name what is required/],
    ['app/time/made-up.ts', 'export const x = (y: any) => y\n', /Unexpected any/],
    ['app/time/made-up.ts', '// @ts-ignore\nexport const x: string = 1\n', /ts-ignore/],
  ])('refuses in %s: %s', async (place, source, answer) => {
    expect(await lint(place, source)).toContainEqual(expect.stringMatching(answer))
  })

  it('knows every folder of app', async () => {
    const found = readdirSync(join(root, 'app'), { withFileTypes: true }).filter((entry) => entry.isDirectory())
    const { appFolders } = (await import(join(root, 'eslint.config.js'))) as { appFolders: readonly string[] }
    expect(found.map((entry) => entry.name).filter((name) => !appFolders.includes(name))).toEqual([])
  })
})
