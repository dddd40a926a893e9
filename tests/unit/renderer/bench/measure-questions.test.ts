import { expect, it } from 'vitest'
import { byEyeKind, eyeU } from '../../../../app/measure/by-eye'
import { measureContext } from '../../../../app/measure/context'
import { readingsOf } from '../../../../app/measure/readings'
import { Measure } from '../../../../app/project/question'
import { askedFor } from '../../../../renderer/bench/asked-for'
import { gridOf } from '../../../../app/measure/curve'
import { questions } from '../../../../renderer/bench/measure-questions'
import { noChoices, type Asked, type Choices } from '../../../../renderer/bench/question-choices'
import { limbChoices } from '../../../../renderer/bench/question-limbs'
import { missingPoints, neededPoints, widestFrame } from '../../../../renderer/bench/needed-points'
import { statedComparison } from '../../../../renderer/bench/stated-margin'
import { knee, scene, table60 } from '../../measure/scene'

const events = [
  { id: 'e1', clip: 'c1', name: 'contact', earliest: 20, latest: 21 },
  { id: 'e2', clip: 'c1', name: 'plant', earliest: 5, latest: 5 },
]
const asked: Asked = {
  ...noChoices,
  id: 'm9',
  clip: 'c1',
  subject: 's1',
  frame: 20,
  events,
  lead: null,
  limb: 'rear elbow',
  from: 'e2',
  to: 'e1',
  what: 'heel',
  value: '3',
  background: [],
  first: 'm1',
  second: 'm2',
  set: 'every clip',
  other: 's2',
  planted: true,
  cases: { c1: { state: 'seen', note: '' } },
}
const made = (name: string, choices: Partial<Asked> = {}): Measure | null =>
  questions.find((question) => question.name === name)?.measure({ ...asked, ...choices }) ?? null

it('should make of every question a measure that can be kept, and of all of them every kind', () => {
  for (const question of questions)
    expect([question.name, Measure.safeParse(question.measure(asked)).success]).toEqual([question.name, true])
  const kinds = new Set(questions.map((question) => question.measure(asked)?.kind))
  const missing = Measure.options.map(({ shape }) => shape.kind.value).filter((kind) => !kinds.has(kind))
  expect(missing).toEqual([])
})

it('should name the joint by the choice, and the event whose bracket the frame lies in', () => {
  expect(made('joint')).toEqual({
    id: 'm9',
    clip: 'c1',
    subject: 's1',
    frame: 20,
    event: 'e1',
    kind: 'joint-angle',
    points: ['shoulder.rear', 'elbow.rear', 'wrist.rear'],
  })
  expect(made('joint', { frame: 22 })).not.toHaveProperty('event')
})

it('should take a way between two events, without the camera’s own motion where the hall is followed', () => {
  const walls = ['background.1', 'background.2', 'background.3']
  expect(made('way', { limb: 'rear fist', background: walls })).toMatchObject({
    kind: 'path',
    points: ['fist.rear'],
    fromFrame: 5,
    toFrame: 20,
    camera: { background: walls },
  })
  expect(made('way')).not.toHaveProperty('camera')
  expect(made('way', { to: 'e2' })).toBeNull()
})

it('should tell a move since an event against the picture or against the trunk, and nothing on the event’s own frame', () => {
  expect(made('head')).toMatchObject({
    kind: 'head-displacement',
    fromFrame: 5,
    frame: 20,
    unit: { points: ['head.top', 'chin'], frame: 5 },
  })
  expect(made('moved', { limb: 'lead toe', against: 'trunk' })).toMatchObject({
    kind: 'displacement',
    points: ['toe.lead'],
    against: 'shoulder.mid',
  })
  expect(made('head', { frame: 5 })).toBeNull()
})

it('should freeze a line on the floor at an event, from one person to another, and state that the foot stands flat only where it does', () => {
  expect(made('heading', { limb: 'rear foot' })).toMatchObject({
    kind: 'foot-heading',
    points: ['heel.rear', 'toe.rear'],
    planted: true,
    line: { frame: 5, stands: [{ subject: 's1' }, { subject: 's2' }] },
  })
  expect(made('off line', { limb: 'lead foot', planted: false })).toMatchObject({ kind: 'step-off-line', points: ['toe.lead'] })
  expect(made('off line', { planted: false })).not.toHaveProperty('planted')
  expect(made('off line', { other: '' })).toBeNull()
})

it('should state the widths of a separation from the side, and the near sides only where both are seen', () => {
  expect(made('separation', { hipsFrame: '7', shouldersFrame: '9', nearHip: 'left' })).toMatchObject({
    widths: { hipsFrame: 7, shouldersFrame: 9 },
  })
  expect(made('separation', { hipsFrame: '7' })).not.toHaveProperty('widths')
  expect(made('separation', { nearHip: 'left' })).not.toHaveProperty('near')
  expect(made('separation', { nearHip: 'left', nearShoulder: 'right' })).toMatchObject({ near: { hips: 'left', shoulders: 'right' } })
})

it('should count only the clips of the set, those that cannot be judged with why, and give back what it counted', () => {
  const cases = {
    c1: { state: 'seen', note: '' },
    c2: { state: 'not seen', note: '' },
    c3: { state: 'not usable', note: ' behind the referee ' },
    c4: { state: '', note: '' },
  } as const
  const count = made('count', { cases })
  expect(count).toMatchObject({
    what: 'heel',
    set: 'every clip',
    cases: [
      { clip: 'c1', holds: true },
      { clip: 'c2', holds: false },
      { clip: 'c3', holds: null, note: 'behind the referee' },
    ],
  })
  expect(made('count', { cases: {} })).toBeNull()
  expect(made('count', { set: ' ' })).toBeNull()
  const again = askedFor(count!)
  expect(again?.question.measure({ ...asked, ...(again.choices as Choices) })).toEqual(count)
})

it('should tell where points are missing, middles by their sides, and the frame on which hips are widest', () => {
  const hipsAt = (frame: number, half: number) =>
    (['left', 'right'] as const).map((side) => ({
      clip: 'c1',
      subject: 's1',
      point: `hip.${side}`,
      samples: [{ frame, at: [600 + (side === 'left' ? -half : half), 300] as [number, number] }],
    }))
  const both = scene([], {
    more: {
      landmarks: hipsAt(410, 20).map((landmark, i) => ({ ...landmark, samples: [...landmark.samples, ...hipsAt(420, 50)[i]!.samples] })),
    },
  })
  const context = measureContext(both, () => table60)
  expect(widestFrame(context, 'c1', 's1', 'hip')).toBe(420)
  expect(widestFrame(context, 'c1', 's1', 'shoulder')).toBeNull()
  const lean = made('moved', {
    limb: 'rear hip',
    frame: 430,
    from: 'plant',
    events: [{ id: 'plant', clip: 'c1', name: 'plant', earliest: 410, latest: 410 }],
  })!
  expect(neededPoints(lean)).toEqual([
    { frame: 430, points: ['hip.rear'] },
    { frame: 410, points: ['hip.rear', 'hip.mid', 'shoulder.mid'] },
  ])
  const hand = { clip: context.clip('c1'), subject: 's1', frame: 430, lead: 'left' } as const
  const found = missingPoints(lean, hand, context)
  expect(found).toEqual({
    here: ['hip.right'],
    missing: [
      { frame: 430, says: 'rear hip is' },
      { frame: 410, says: 'lead shoulder and rear shoulder are' },
    ],
  })
})

it('should write down how near counts as the same before the second value is measured, never below what can be shown', () => {
  const second = { ...knee, id: 'm2', frame: 470 }
  const pair = { id: 'm3', kind: 'comparison', measures: ['m1', 'm2'] } as const satisfies Measure
  const readings = new Map(readingsOf(scene([knee, second]), () => table60).map((reading) => [reading.id, reading]))
  const asks = { ...pair, measures: ['m1', 'm2'] as [string, string] }
  expect(statedComparison(asks, null, '', readings)).toEqual({ measure: asks, refusal: null })
  const before = statedComparison(asks, null, '60', readings)
  expect(before.measure.margin).toEqual({ delta: 60, before: true })
  expect(statedComparison(asks, null, '2', readings).refusal).toMatch(/^At this precision nothing nearer than \d+° can be shown\.$/)
  expect(statedComparison(asks, null, 'near', readings).refusal).toBe('How near is a number above zero.')
  expect(statedComparison({ ...asks, measures: ['m2', 'm1'] }, null, '60', readings).refusal).toMatch(/^Measure the first value/)
  // Once the second is known a change is kept, marked, with what it replaced; an emptied field takes nothing away.
  const known = new Map([...readings, ['m2', { ...readings.get('m1')!, id: 'm2' }]])
  expect(statedComparison(asks, before.measure, '70', known).measure.margin).toEqual({ delta: 70, before: false, earlier: [60] })
  expect(statedComparison(asks, before.measure, '', known).measure.margin).toEqual({ delta: 60, before: true })
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

it('should state with what is judged by eye how it was seen and how far it may be off, else as the core takes it', () => {
  const ofEye = (choices: Partial<Asked>): Measure | null => made('eye', { value: '140', ...choices })
  expect(ofEye({})).toEqual({
    id: 'm9',
    clip: 'c1',
    subject: 's1',
    frame: 20,
    kind: 'by-eye',
    what: 'heel',
    value: 140,
    unit: '°',
    seen: 'oblique',
  })
  expect(ofEye({ seen: 'transverse', u: '9.5' })).toMatchObject({ seen: 'transverse', u: 9.5 })
  expect(ofEye({ unit: 'cm', seen: 'planar' })).not.toHaveProperty('seen')
  expect(Measure.safeParse(ofEye({ u: '-1' })).success).toBe(false)
  const context = measureContext(scene([]), () => table60)
  for (const choices of [{}, { seen: 'planar' }, { seen: 'transverse' }, { unit: 'cm' }] as const) {
    const measure = ofEye(choices) as Extract<Measure, { kind: 'by-eye' }>
    expect(byEyeKind.answer(measure, context)).toMatchObject({ effects: [{ shift: [eyeU(measure)] }] })
  }
  expect(eyeU({ value: 140, unit: '°', seen: 'planar' })).toBe(6)
})
