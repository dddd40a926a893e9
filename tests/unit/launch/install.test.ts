import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { staleIn, whyInstall } from '../../../main/launch/install.mjs'

describe('whether an install is due', () => {
  let folder = ''
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'claimframe-install-'))
  })
  afterEach(() => rmSync(folder, { recursive: true }))

  const lock = {
    packages: {
      '': { version: '0.1.0' },
      'node_modules/zod': { version: '4.0.0' },
      'node_modules/a/node_modules/b': { version: '1.0.0' },
      'node_modules/film': { version: '2.0.0', optional: true },
    },
  }
  const write = (file: string, value: object) => {
    mkdirSync(join(folder, 'node_modules'), { recursive: true })
    writeFileSync(join(folder, file), JSON.stringify(value))
  }

  it('is, on a fresh clone', () => {
    expect(whyInstall(folder)).toBe('none are here yet')
  })

  it('is, when a package is behind the lock file', () => {
    write('package-lock.json', lock)
    write('node_modules/.package-lock.json', { packages: { ...lock.packages, 'node_modules/zod': { version: '3.9.0' } } })
    expect(whyInstall(folder)).toBe('zod is not as the lock file says')
  })

  it('is, when the database module does not load', () => {
    write('package-lock.json', lock)
    write('node_modules/.package-lock.json', lock)
    expect(whyInstall(folder)).toBe('the database module does not load in this Node')
  })

  it('is not, in the folder that these tests run in', () => {
    expect(whyInstall()).toBeUndefined()
  })

  it('names the package that is missing, nested ones by their own name', () => {
    expect(staleIn(lock.packages, { 'node_modules/zod': { version: '4.0.0' } })).toBe('b')
  })

  it('lets optional packages be absent, and others be there beyond need', () => {
    const { 'node_modules/film': _film, ...found } = lock.packages
    expect(staleIn(lock.packages, { ...found, 'node_modules/more': { version: '1.0.0' } })).toBeUndefined()
  })
})
