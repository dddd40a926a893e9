import { expect, it } from 'vitest'
import { Measure } from '../../../../app/project/question'
import { gridOf } from '../../../../renderer/bench/curve'
import { limbChoices, questions } from '../../../../renderer/bench/measure-questions'

const events = [{ id: 'e1', clip: 'c1', name: 'contact', earliest: 20, latest: 21 }, { id: 'e2', clip: 'c1', name: 'plant', earliest: 5, latest: 5 }]
const asked = { id: 'm1', clip: 'c1', subject: 's1', frame: 20, events, lead: null, choice: 'rear elbow', from: 'e2', to: 'e1', what: 'heel', value: 3, unit: '°', background: [] } as const

it('should make of every question a measure that can be kept', () => {
  for (const question of questions) expect([question.name, Measure.safeParse(question.measure(asked)).success]).toEqual([question.name, true])
})

it('should name the joint by the choice, and the event whose bracket the frame lies in', () => {
  const joint = questions.find(({ name }) => name === 'joint')
  expect(joint?.measure(asked)).toEqual({ id: 'm1', clip: 'c1', subject: 's1', frame: 20, event: 'e1', kind: 'joint-angle', points: ['shoulder.rear', 'elbow.rear', 'wrist.rear'] })
  expect(joint?.measure({ ...asked, frame: 22 })).not.toHaveProperty('event')
})

it('should take a way between two events, without the camera’s own motion where the hall is followed', () => {
  const way = questions.find(({ name }) => name === 'way')
  const walls = ['background.1', 'background.2', 'background.3']
  expect(way?.measure({ ...asked, choice: 'rear fist', background: walls })).toMatchObject({ kind: 'path', points: ['fist.rear'], fromFrame: 5, toFrame: 20, camera: { background: walls } })
  expect(way?.measure(asked)).not.toHaveProperty('camera')
})

it('should offer rear and lead where the lead side is known, else left and right', () => {
  const joint = questions[0]
  if (!joint) throw new Error('there is no question')
  expect(limbChoices(joint, 'left').slice(0, 2)).toEqual(['rear knee', 'lead knee'])
  expect(limbChoices(joint, null).slice(0, 2)).toEqual(['left knee', 'right knee'])
})

it('should divide a range by round steps', () => {
  expect(gridOf(97, 163)).toEqual([100, 120, 140, 160])
  expect(gridOf(-0.4, 1.1)).toEqual([0, 0.5, 1].map((v) => expect.closeTo(v, 9)))
})
