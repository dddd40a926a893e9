import { readFileSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import type { Command } from '../../../main/cli/command'
import { BAD_INPUT, FAILED, FINDINGS, FINE } from '../../../main/cli/exit-status'
import { root } from './licence-table'

const folder = join(root, 'main/cli/commands')
const page = readFileSync(join(root, 'docs/commands.md'), 'utf8')

describe('the page of commands', () => {
  it('has every command as it is used, and no other', async () => {
    const modules = await Promise.all(
      readdirSync(folder).map(async (name) => Object.values((await import(join(folder, name))) as Record<string, Command>)),
    )
    const usages = modules.flat().flatMap((one) => (typeof one.usage === 'string' ? [`## \`claimframe ${one.usage}\``] : []))
    expect(usages.length).toBeGreaterThan(0)
    expect(
      page
        .split('\n')
        .filter((line) => line.startsWith('## `'))
        .sort(),
    ).toEqual(usages.sort())
  })

  it('gives each exit status the code’s meaning', () => {
    for (const [status, meaning] of [
      [FINE, 'fine'],
      [FINDINGS, 'the work was done'],
      [BAD_INPUT, 'wrong use or bad input'],
      [FAILED, 'something failed'],
    ])
      expect(page).toContain(`| ${status} | ${meaning}`)
  })
})
