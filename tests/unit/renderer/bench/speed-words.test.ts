import { expect, it } from 'vitest'
import { measureContext } from '../../../../app/measure/context'
import type { Breakdown } from '../../../../app/project/breakdown'
import type { Capture } from '../../../../app/project/film'
import { speedWords } from '../../../../renderer/bench/speed-words'
import { scene, table60 } from '../../measure/scene'

const saying = (capture: Capture, live: Capture = { factor: '1', u: 0 }): string => {
  const clips: Breakdown['clips'] = [
    { id: 'c1', footage: 'f1', from: 400, to: 830, capture: live, name: 'live' },
    { id: 'c2', footage: 'f1', from: 900, to: 1200, capture },
  ]
  const context = measureContext(scene([], { more: { clips } }), () => table60)
  return speedWords(context.clip('c2')!, context)
}
const link = {
  shared: 'c1',
  pairs: [
    ['replayed', 'contact'],
    ['planted', 'plant'],
  ],
} as unknown as NonNullable<Exclude<Capture, 'unknown'>['link']>

it('should say how fast a clip plays, and what is refused where that is not known', () => {
  expect(saying({ factor: '1', u: 0 })).toBe('Played as fast as it happened.')
  expect(saying({ factor: '8', u: 0.1 })).toBe('Played 8 times slower, ± 0.2.')
  expect(saying('unknown')).toBe('Not known: times, speeds and rates are refused.')
})

it('should say of a linked clip by which other one, and that a link which gives nothing is as good as none', () => {
  expect(saying({ factor: '3', u: 0.1, link }, 'unknown')).toMatch(
    /^Linked by events to live, which gives no speed, .+: times, speeds and rates are refused\.$/,
  )
})
