import { createHash } from 'node:crypto'
import { copyFile, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { openProject } from '../../main/store/open-project'
import { runCommand } from '../command-line'

/// A whole script's narration (tests/data/narration) brought in by command.

let folder: string
const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Brought',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [],
  subjects: [],
  clips: [],
  script: [
    {
      id: 'p1',
      text: [
        'He plants, and the pelvis turns sixty seven milliseconds before the shoulders do. At contact the rear knee is bent to about one hundred and forty degrees.',
      ],
    },
    { id: 'p2', text: ['Nobody ever said these words into it at all.'] },
    {
      id: 'p3',
      text: [
        'The scapula protracts as the acromion travels forward. From the second camera nothing can be said about the spine. That is the part worth slowing down.',
      ],
    },
  ],
}
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'narrate-'))
  await writeFile(join(folder, 'breakdown.json'), JSON.stringify(breakdown))
  await copyFile(join(import.meta.dirname, '../data/narration/left-out.flac'), join(folder, 'said.flac'))
  expect((await runCommand(['create', 'brought.claimframe', '--from', 'breakdown.json'], { cwd: folder })).status).toBe(0)
})
afterAll(() => rm(folder, { recursive: true, force: true }))

const digest = async (name: string): Promise<string> =>
  createHash('sha256')
    .update(await readFile(join(folder, name)))
    .digest('hex')

it('should tell which paragraphs a file holds and what was not heard, and write nothing unless it is asked to', async () => {
  const { status, stdout } = await runCommand(['narrate', 'brought.claimframe', 'said.flac'], { cwd: folder })
  expect(status).toBe(1)
  expect(stdout).toMatch(/^p1 +0:00 to 0:\d\d {2}“rear” was not heard$/m)
  expect(stdout).toMatch(/^p2 +not found: “Nobody ever said these words into …”$/m)
  expect(stdout).toMatch(/^p3 +0:\d\d to 0:\d\d {2}every word was found$/m)
  expect(await readdir(folder)).not.toContain('takes')
})

it('should put the takes into the film by one edit that one undo takes back, the file left as it is', async () => {
  const before = await digest('said.flac')
  const { status, stdout } = await runCommand(['narrate', 'brought.claimframe', 'said.flac', '--use', '--json'], { cwd: folder })
  expect(status).toBe(1)
  expect(JSON.parse(stdout)).toMatchObject({ missing: ['p2'], takes: ['takes/p1-1.wav', 'takes/p3-1.wav'] })
  expect(await digest('said.flac')).toBe(before)
  const opened = openProject(join(folder, 'brought.claimframe'), { readOnly: false, owner: 'this check' })
  if (!opened.ok) throw opened.error
  try {
    expect(opened.value.breakdown().script).toMatchObject([
      { take: 'takes/p1-1.wav' },
      {},
      { take: 'takes/p3-1.wav', narration: { words: expect.any(Array), onsets: expect.any(Array) } },
    ])
    opened.value.undo()
    expect(opened.value.breakdown()).toEqual(breakdown)
  } finally {
    opened.value.close()
  }
})

it('should name a file that cannot be read', async () => {
  await writeFile(join(folder, 'notes.mp3'), 'these are words, not a sound')
  const { status, stderr } = await runCommand(['narrate', 'brought.claimframe', 'notes.mp3', '--use'], { cwd: folder })
  expect(status).toBe(2)
  expect(stderr).toContain('notes.mp3 cannot be read: no sound can be read from it')
})
