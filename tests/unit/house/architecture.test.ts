import { readFileSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { root } from './licence-table'

const page = readFileSync(join(root, 'docs/architecture.md'), 'utf8')
const namedUnder = (layer: string) =>
  [...(new RegExp(`^${layer}/ .*\\n((?:  .*\\n)+)`, 'm').exec(page)?.[1] ?? '').matchAll(/^ {2}(\w+)\/ /gm)].map((found) => found[1]!)

it('the map names every folder of app in the order of the lint', async () => {
  const { appFolders } = (await import(join(root, 'eslint.config.js'))) as { appFolders: readonly string[] }
  expect(namedUnder('app')).toEqual(appFolders)
})

it('the map names every folder of main', () => {
  const folders = readdirSync(join(root, 'main'), { withFileTypes: true }).filter((entry) => entry.isDirectory())
  expect(namedUnder('main').sort()).toEqual(folders.map(({ name }) => name).sort())
})
