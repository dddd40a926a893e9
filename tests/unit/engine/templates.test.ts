import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, it } from 'vitest'
import { readBreakdown } from '../../../app/exchange/breakdown-reading'
import { writeBreakdown } from '../../../app/exchange/breakdown-writing'
import { findingsOf } from '../../../app/script/claims/findings'
import { walkthroughBreakdown } from '../../../main/engine/templates'
import { createProject } from '../../../main/store/create-project'
import { dumpProject } from '../../../main/store/dump-project'

let folder = ''
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'claimframe-'))
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

it('should begin with the stages of a breakdown as chapters, and their questions as notes that nobody says', () => {
  const { script, output } = walkthroughBreakdown('Left hook')
  const chapters = script.flatMap((row) => ('chapter' in row ? [row.chapter] : []))
  expect(chapters).toEqual([
    'The finish',
    'Before it',
    'The load',
    'From plant to contact',
    'Contact',
    'What the other one did',
    'What to train',
  ])
  const paragraphs = script.flatMap((row) => ('text' in row ? [row] : []))
  expect(paragraphs.length).toBeGreaterThan(chapters.length)
  for (const { text } of paragraphs) expect(text).toEqual([{ note: expect.stringMatching(/[.?]$/) }])
  // Each chapter is followed by a paragraph, so none is an empty heading.
  script.forEach((row, i) => {
    if ('chapter' in row) expect(script[i + 1]).toHaveProperty('text')
  })
  expect(output).toEqual({ width: 1920, height: 1080, rate: '60/1' })
  expect(walkthroughBreakdown('Left hook', { width: 1080, height: 1920, rate: '30/1' }).output).toEqual({
    width: 1080,
    height: 1920,
    rate: '30/1',
  })
})

it('should make a project that opens, is a valid document, and holds no claim to answer for', () => {
  const made = walkthroughBreakdown('Left hook')
  const file = join(folder, 'left-hook.claimframe')
  const created = createProject(file, made)
  expect(created.ok).toBe(true)
  const dumped = dumpProject(file)
  if (!dumped.ok) throw dumped.error
  const read = readBreakdown(writeBreakdown(dumped.value), 'left-hook.json')
  if (!read.ok) throw read.error
  expect(read.value.script).toEqual(made.script)
  expect(findingsOf(read.value, new Map())).toEqual([])
})
