import { readFileSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { minusSaid, withMinus } from '../../../app/measure/minus'

it('should write a minus sign, and say one', () => {
  expect(['-39.5', '-.5', '-Infinity', '3', '1e-7', 'plant-contact'].map(withMinus)).toEqual([
    '−39.5',
    '−.5',
    '−∞',
    '3',
    '1e−7',
    'plant-contact',
  ])
  expect(['-39.5', '−5', '5'].map(minusSaid)).toEqual(['minus 39.5', 'minus 5', '5'])
})

it('should be the only place that turns a hyphen into one', () => {
  const root = join(import.meta.dirname, '../../..')
  const others = ['app', 'main', 'renderer'].flatMap((folder) =>
    readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
      .filter((name) => /\.tsx?$/u.test(name) && !name.endsWith(join('measure', 'minus.ts')))
      .filter((name) => /replace(?:All)?\(['"/]-['"/u]*, *['"]−/u.test(readFileSync(join(root, folder, name), 'utf8')))
      .map((name) => join(folder, name)),
  )
  expect(others).toEqual([])
})
