import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { readBreakdown } from '../../../app/exchange/breakdown-reading'
import { createProject } from '../../../main/store/create-project'
import { dumpProject } from '../../../main/store/dump-project'
import { validDocument } from '../../valid-document'

let folder = ''
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'claimframe-'))
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

describe('createProject', () => {
  it('keeps a breakdown exactly: dumped, it is the document again', () => {
    const document = validDocument()
    const read = readBreakdown(JSON.stringify(document), 'a.json')
    if (!read.ok) throw read.error
    const path = join(folder, 'a.claimframe')
    const created = createProject(path, read.value)
    if (!created.ok) throw created.error
    const dumped = dumpProject(path)
    if (!dumped.ok) throw dumped.error
    expect(dumped.value).toEqual(document)
    expect(readdirSync(folder)).toEqual(['a.claimframe'])
  })

  it('refuses a name that is taken and leaves that file as it is', () => {
    const path = join(folder, 'a.claimframe')
    writeFileSync(path, 'mine')
    const read = readBreakdown(JSON.stringify(validDocument()), 'a.json')
    if (!read.ok) throw read.error
    const created = createProject(path, read.value)
    expect(created.ok ? '' : created.error.code).toBe('file-exists')
    expect(readdirSync(folder)).toEqual(['a.claimframe'])
  })
})
