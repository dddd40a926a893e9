import { readFileSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { countReport, layers, sentence, testProjects } from '../../../main/launch/checks.mjs'
import config from '../../vitest.config'

const root = join(import.meta.dirname, '../../..')

describe('the count of a test run', () => {
  it('is the runner’s own', () => {
    expect(countReport('{"numPassedTests":12,"numFailedTests":3,"numPendingTests":0,"numTodoTests":0}', 1)).toEqual({
      passed: 12,
      failed: 3,
      skipped: 0,
    })
  })

  it('tells what another system is for, and takes a planned test for a failure', () => {
    const count = countReport('{"numPassedTests":12,"numFailedTests":0,"numPendingTests":1,"numTodoTests":2}', 0)
    expect(count).toEqual({ passed: 12, failed: 2, skipped: 1 })
    expect(sentence(count)).toBe('12 passed, 2 failed, 1 skipped')
  })

  it('has a failure when the run ended badly with none in it: a file that does not load, a crash', () => {
    expect(countReport('{"numPassedTests":12,"numFailedTests":0}', 1)).toEqual({ passed: 12, failed: 1, skipped: 0 })
    expect(countReport('', 134)).toEqual({ passed: 0, failed: 1, skipped: 0 })
  })

  it('has a failure when no test ran', () => {
    expect(sentence(countReport('{"numPassedTests":0,"numFailedTests":0}', 0))).toBe('0 passed, 1 failed')
  })
})

describe('what is checked', () => {
  it('is every folder that has types of its own', () => {
    const folders = readdirSync(root, { withFileTypes: true, recursive: true })
      .filter((entry) => entry.name === 'tsconfig.json' && !/node_modules|\bout\b/.test(entry.parentPath))
      .map((entry) => entry.parentPath.slice(root.length + 1).replaceAll('\\', '/'))
    expect(folders.filter((folder) => folder !== '').sort()).toEqual([...layers].sort())
  })

  it('is every project of tests', () => {
    expect(config.test?.projects?.map((project) => (project as { test: { name: string } }).test.name)).toEqual(testProjects)
  })

  it('is what the README says, in continuous integration too', () => {
    expect(readFileSync(join(root, 'README.md'), 'utf8')).toContain('npm test')
    expect(readFileSync(join(root, '.ci/run'), 'utf8')).toMatch(/^exec npm (--\S+ )*test$/m)
  })
})
