import type { Breakdown } from '../../app/project/breakdown'
import type { Truth } from '../film/truth'
import { placePoints, type Wish } from './placing'

/// The demo's breakdown, made from the films' truth by a simulated hand.

const every = (from: number, to: number, step = 1): number[] => Array.from({ length: Math.ceil((to - from) / step) }, (_, i) => from + i * step)

export function twoRightHands(truths: ReadonlyMap<string, Truth>): Breakdown {
  const truth = (name: string): Truth => {
    const found = truths.get(name)
    if (!found) throw new RangeError(`the truth of ${name} is missing`)
    return found
  }
  const a = truth('bout-a-side')
  const b = truth('bout-b-side')
  const contactA = Math.floor(a.contact.frame)
  const contactB = Math.floor(b.contact.frame)
  const onFrame = (film: string, clip: string, subject: string, frame: number, points: readonly string[], repeats = 3): Wish[] => points.map((point) => ({ film, clip, subject, point, frames: [frame], repeats }))
  const wishes: Wish[] = [
    ...onFrame('bout-a-side', 'c1', 's1', contactA, ['hip.right', 'knee.right', 'ankle.right', 'shoulder.mid', 'hip.mid', 'shoulder.right', 'elbow.right', 'wrist.right']),
    ...onFrame('bout-b-side', 'c2', 's2', contactB, ['hip.right', 'knee.right', 'ankle.right', 'shoulder.mid', 'hip.mid']),
    { film: 'bout-a-side', clip: 'c1', subject: 's1', point: 'fist.right', frames: every(contactA - 40, contactA + 30), origin: 'tracked' },
  ]
  return {
    format: 'claimframe-breakdown',
    version: 1,
    title: 'Two right hands',
    output: { width: 1280, height: 720, rate: '60/1' },
    footage: [
      { id: 'f1', file: 'bout-a-side.mp4', source: { owner: 'Lantern Yard Boxing Club', credit: 'Club archive, ringside' } },
      { id: 'f2', file: 'bout-b-side.mp4', source: { owner: 'Lantern Yard Boxing Club', credit: 'Club archive, ringside' } },
    ],
    subjects: [
      { id: 's1', name: 'Ilan Brevik' },
      { id: 's2', name: 'Teo Marsan' },
    ],
    clips: [
      { id: 'c1', footage: 'f1', from: 0, to: a.frames, capture: { factor: '1', u: 0 }, roll: { deg: 0, u: 0.5 } },
      { id: 'c2', footage: 'f2', from: 0, to: b.frames, capture: { factor: '1', u: 0 }, mirrored: true, roll: { deg: 0, u: 0.5 } },
    ],
    events: [
      { id: 'e1', clip: 'c1', name: 'contact', earliest: contactA, latest: contactA + 1 },
      { id: 'e2', clip: 'c2', name: 'contact', earliest: contactB, latest: contactB + 1 },
    ],
    landmarks: placePoints(wishes, truths, 7),
    measures: [
      { id: 'm1', kind: 'joint-angle', clip: 'c1', subject: 's1', frame: contactA, points: ['hip.right', 'knee.right', 'ankle.right'] },
      { id: 'm2', kind: 'joint-angle', clip: 'c2', subject: 's2', frame: contactB, points: ['hip.right', 'knee.right', 'ankle.right'] },
    ],
    script: [
      { chapter: 'Two right hands' },
      { id: 'p1', text: ['Two evenings, the same right hand.'], shots: [{ run: 'c1', from: contactA - 100, to: contactA + 60, speed: '1' }] },
      {
        id: 'p2',
        text: ['At ', { cue: 'e1', word: 'contact' }, ' the right knee is at ', { value: 'm1' }, '.'],
        shots: [
          { run: 'c1', from: contactA - 40, to: contactA, speed: '1/4', marks: [{ trail: { subject: 's1', point: 'fist.right' } }] },
          { hold: 'c1', at: contactA, seconds: '2', marks: ['m1'] },
        ],
      },
      { id: 'p3', text: ['Side by side, the knees read ', { value: 'm1' }, ' and ', { value: 'm2' }, '.'], shots: [{ pair: [{ clip: 'c1', event: 'e1' }, { clip: 'c2', event: 'e2' }], before: '1/2', after: '3/10', speed: '1/8', layout: 'beside' }] },
      { id: 'p4', text: ['This is not medical advice.'], shots: [{ card: 'caution', seconds: '4' }] },
    ],
  }
}
