import { existsSync, mkdirSync, mkdtempSync, realpathSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, it } from 'vitest'
import type { Breakdown } from '../../../app/project/breakdown'
import type { Release } from '../../../app/project/release'
import { approvedWords } from '../../../app/release/film-checks'
import { fileStem } from '../../../main/release/file-stem'
import { mendReleases, writePending, type MendedRelease } from '../../../main/release/pending-release'
import { createProject } from '../../../main/store/create-project'
import { openProject } from '../../../main/store/open-project'
import { validDocument } from '../../valid-document'

/// Deliveries that were broken off, and what a project folder that somebody sent may say of them.

let folder: string
beforeEach(() => {
  folder = realpathSync(mkdtempSync(join(tmpdir(), 'pending-')))
  const made = createProject(join(folder, 'a.claimframe'), validDocument() as unknown as Breakdown)
  if (!made.ok) throw made.error
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

const release: Release = {
  id: 'release-9',
  film: 'Plant',
  version: '9',
  date: '2026-11-26',
  project: 1,
  files: [],
  footage: [],
  values: [],
  events: [],
  said: [],
}

/// A folder of evidence that says a delivery lies at `part` and is to lie at `target`; the project is opened upon it.
function mended(part: string, target: string): MendedRelease[] {
  const kept = join(folder, 'releases', release.id)
  mkdirSync(kept, { recursive: true })
  writePending(kept, release, part, target)
  const opened = openProject(join(folder, 'a.claimframe'))
  if (!opened.ok) throw opened.error
  try {
    return mendReleases(opened.value, folder, () => 'edit-9')
  } finally {
    opened.value.close()
  }
}

function delivery(part: string, manifest: object = { format: 'claimframe-delivery', version: '9' }): string {
  mkdirSync(part)
  writeFileSync(join(part, 'manifest.json'), JSON.stringify(manifest))
  return part
}

it('a delivery that was broken off gets its name, and its version is recorded', () => {
  const target = join(folder, 'out')
  expect(mended(delivery(`${target}.123.part`), target)).toEqual([{ release: 'release-9', version: '9', folder: target, there: true }])
  expect(existsSync(join(target, 'manifest.json'))).toBe(true)
})

it('no other folder is named anew, whatever a received project says', () => {
  const target = join(folder, 'stolen')
  const letters = join(folder, 'letters')
  mkdirSync(letters)
  expect(mended(letters, target)).toMatchObject([{ there: false }])
  expect(existsSync(letters)).toBe(true)
  expect(existsSync(target)).toBe(false)
})

it('a folder with a working name but without this version’s manifest stays where it is', () => {
  const target = join(folder, 'stolen')
  const part = delivery(`${target}.123.part`, { format: 'claimframe-delivery', version: '8' })
  expect(mended(part, target)).toMatchObject([{ there: false }])
  expect(existsSync(part)).toBe(true)
})

it('a folder that cannot get its name keeps no project from being opened: it is told where it lies', () => {
  const target = join(folder, 'out')
  const part = delivery(`${target}.123.part`)
  // A name that is taken by a dangling link is neither there nor to be had by a folder.
  symlinkSync(join(folder, 'nowhere'), target)
  expect(mended(part, target)).toEqual([{ release: 'release-9', version: '9', folder: part, there: true }])
})

it('a film’s files never have a name that the delivery’s own files have', () => {
  expect(['Evidence', 'Checks', 'Manifest', 'NUL', 'com1'].map(fileStem)).toEqual([
    'film-evidence',
    'film-checks',
    'film-manifest',
    'film-nul',
    'film-com1',
  ])
  expect(['Checks and balances', 'Two right hands', '…'].map(fileStem)).toEqual([
    'checks-and-balances',
    'two-right-hands',
    expect.stringMatching(/^film-[0-9a-f]{8}$/),
  ])
})

it('frames that could not be compared are told as such, not left out of the count', () => {
  expect(approvedWords({ frames: 4, compared: 4, shown: 4 })).toBe('4 of 4 chosen frames found in the film. ')
  expect(approvedWords({ frames: 4, compared: 1, shown: 1 })).toBe(
    '1 of 4 chosen frames found in the film. 3 could not be compared: laid over another picture, or covered for the most part. ',
  )
})
