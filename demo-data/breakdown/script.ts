import type { FreeMark, Mark, Paragraph, Place } from '../../app/project/picture'
import { BOXERS, CLIPS, truthOf, type ClipId, type Moments, type Truths } from './evidence'
import { arriving, type Draft } from './timing'

/// The demo's words, and the pictures beside them.

export interface DraftParagraph {
  readonly chapter?: string
  readonly id: string
  readonly text: Paragraph['text']
  readonly title?: Paragraph['title']
  /// The shots, given when each cue's word is said (seconds from the take's start).
  readonly shots: (cue: (event: string) => number) => readonly Draft[]
}

export const CAUTION = [
  'Shows hard punches on a heavy bag. For study and discussion.',
  'Values are estimates from video, with stated error.',
]
export const CLOSING = [
  'Do not try head strikes outside supervised training with a qualified coach and protective equipment.',
  'This is not medical advice. If a concussion is suspected, stop at once and see a licensed health professional.',
]

export function scriptOf(at: Moments, truths: Truths): DraftParagraph[] {
  const pixel = (clip: ClipId, point: string, frame: number): readonly [number, number] => {
    const found = truthOf(truths, clip).points.find((p) => p.name === point)?.px[frame]
    if (!found) throw new RangeError(`${CLIPS[clip]} has no ${point} on frame ${frame}`)
    return found
  }
  const around = (
    clip: ClipId,
    point: string,
    frame: number,
    width: number,
    shift: readonly [number, number] = [0, 0],
  ): [number, number, number, number] => rectangleAbout(pixel(clip, point, frame), width, shift)
  const whole: [number, number, number, number] = [0, 0, 1280, 720]
  const follow = (subject: keyof typeof BOXERS, point: string, offset?: [number, number]): Place => ({
    subject,
    point,
    ...(offset ? { offset } : {}),
  })
  const hips = (subject: keyof typeof BOXERS): FreeMark => ({
    line: [follow(subject, 'hip.left'), follow(subject, 'hip.right')],
    part: 'hips',
  })
  const shoulders = (subject: keyof typeof BOXERS): FreeMark => ({
    line: [follow(subject, 'shoulder.left'), follow(subject, 'shoulder.right')],
    part: 'shoulders',
  })
  const { contact, hips: turned, frames } = at
  const kneeA = pixel('c1', 'knee.right', contact.c1)
  const kneeZoom = around('c1', 'hip.right', contact.c1, 860, [60, 10])
  const fistMarks: Mark[] = [{ trail: { subject: 's1', point: 'fist.right' }, part: 'limb' }]
  const bagAt = pixel('c5', 'bag.bottom', contact.c5)
  return [
    {
      id: 'p0',
      text: [],
      shots: () => [
        { card: 'caution', lines: CAUTION },
        { card: 'title', seconds: '3' },
      ],
    },
    {
      chapter: 'Two right hands',
      id: 'p1',
      text: ['Nela Varga, open evening: a lead right hand on the bag.'],
      title: { name: BOXERS.s1, line: 'Lantern Yard, open evening' },
      shots: () => [
        { run: 'c1', from: 40, to: frames.c1, speed: '1' },
        { hold: 'c1', at: frames.c1 - 1, seconds: 'rest' },
      ],
    },
    {
      id: 'p2',
      text: ['Ruta Selmane, late show: again the lead right hand. Her clip is mirrored.'],
      title: { name: BOXERS.s2, line: 'Lantern Yard, late show' },
      shots: () => [
        { run: 'c2', from: 0, to: frames.c2, speed: '1' },
        {
          run: 'c2',
          from: contact.c2 - 60,
          to: contact.c2 + 40,
          speed: '1/2',
          frame: whole,
          frameTo: around('c2', 'chin', contact.c2, 820, [-90, 90]),
        },
        { hold: 'c2', at: contact.c2 + 40, seconds: 'rest', frame: around('c2', 'chin', contact.c2, 820, [-90, 90]) },
      ],
    },
    {
      chapter: 'The turn',
      id: 'p3',
      text: [
        'At a quarter of the speed, the order is ',
        { value: 'm7' },
        '. From hip turn to ',
        { cue: 'e1', word: 'contact' },
        ' it is ',
        { value: 'm9' },
        '.',
      ],
      shots: (cue) => [
        ...arriving(
          {
            run: 'c1',
            speed: '1/4',
            frame: around('c1', 'hip.mid', turned.c1, 1000, [70, -30]),
            marks: [hips('s1'), shoulders('s1'), ...fistMarks],
          },
          contact.c1,
          0,
          cue('e1'),
          30,
        ),
        {
          hold: 'c1',
          at: contact.c1,
          seconds: 'rest',
          frame: around('c1', 'hip.mid', turned.c1, 1000, [70, -30]),
          marks: [
            hips('s1'),
            shoulders('s1'),
            ...fistMarks,
            { plate: 'm7' },
            { ring: follow('s1', 'fist.right', [-14, 0]), radius: 44, on: 'e1' },
          ],
        },
      ],
    },
    {
      id: 'p4',
      text: [
        'From above, blue is the hips, orange the shoulders. At ',
        { cue: 'e3', word: 'contact' },
        ' they stand ',
        { value: 'm6' },
        ' apart.',
      ],
      shots: (cue) => [
        ...arriving({ run: 'c3', speed: '1/8', marks: [hips('s1'), shoulders('s1')] }, contact.c3, 0, cue('e3'), 15),
        { hold: 'c3', at: contact.c3, seconds: 'rest', marks: ['m6'] },
      ],
    },
    {
      chapter: 'At contact',
      id: 'p5',
      text: ['At contact the lead knee reads ', { value: 'm1' }, '. The rear elbow is hidden: ', { value: 'm4' }, '.'],
      shots: () => [
        { run: 'c1', from: contact.c1 - 9, to: contact.c1, speed: '1/8', frame: whole, frameTo: kneeZoom },
        {
          hold: 'c1',
          at: contact.c1,
          seconds: '26/5',
          frame: kneeZoom,
          marks: [
            'm1',
            { dim: [kneeA[0] - 150, kneeA[1] - 205, 320, 380] },
            {
              arrow: [
                [kneeA[0] + 150, kneeA[1] + 40],
                [kneeA[0] + 34, kneeA[1] + 6],
              ],
            },
          ],
        },
        {
          hold: 'c1',
          at: contact.c1,
          seconds: 'rest',
          frame: kneeZoom,
          marks: ['m4', { word: 'hidden', at: follow('s1', 'elbow.left', [-120, 60]) }],
        },
      ],
    },
    {
      chapter: 'Side by side',
      id: 'p6',
      text: [
        'Matched on contact, ',
        { value: 'm1' },
        ' and ',
        { value: 'm2' },
        ' at the lead knee: at this precision I cannot tell them apart.',
      ],
      shots: () => [
        {
          pair: [
            { clip: 'c1', event: 'e1', frame: tall(pixel('c1', 'hip.mid', contact.c1), 40) },
            { clip: 'c2', event: 'e2', frame: tall(pixel('c2', 'hip.mid', contact.c2), -40) },
          ],
          before: '1/2',
          after: '1/5',
          speed: '1/8',
          still: 'rest',
          layout: 'beside',
          marks: ['m1', 'm2'],
        },
      ],
    },
    {
      id: 'p7',
      text: [
        'Laid over each other: again in a second clip, the lead knee is close to straight at contact. The order of the turns is ',
        { value: 'm8' },
        ' there.',
      ],
      shots: () => [
        {
          pair: [
            { clip: 'c1', event: 'e1', frame: whole },
            { clip: 'c2', event: 'e2', frame: whole },
          ],
          before: '1/2',
          after: '1/6',
          speed: '1/8',
          still: 'rest',
          layout: 'over',
          over: { subjects: ['s1', 's2'], points: ['hip.mid', 'shoulder.mid'] },
        },
      ],
    },
    {
      chapter: 'What the replay hides',
      id: 'p8',
      text: [
        'How far the replay was slowed is not stated. I count ',
        { value: 'm12' },
        ' from shoulder turn to ',
        { cue: 'e5', word: 'contact' },
        '; how long that took, this film cannot tell.',
      ],
      shots: (cue) => [
        { run: 'c5', from: 0, to: frames.c5, speed: '1' },
        ...arriving(
          { run: 'c5', speed: '1', marks: [{ trail: { subject: 's2', point: 'fist.right' }, part: 'limb' }] },
          contact.c5,
          0,
          Math.max(1, cue('e5') - frames.c5 / 30),
          30,
        ),
        {
          hold: 'c5',
          at: contact.c5,
          seconds: 'rest',
          marks: [
            { plate: 'm11' },
            {
              path: [
                [bagAt[0] - 70, bagAt[1] - 330],
                [bagAt[0] - 78, bagAt[1] - 240],
                [bagAt[0] - 70, bagAt[1] - 150],
              ],
            },
            { word: 'speed not stated', at: [1000, 610] },
          ],
        },
      ],
    },
    {
      chapter: 'At full speed',
      id: 'p9',
      text: ['Two clips are few, and no habit. Once more, at full speed.'],
      shots: () => [
        { run: 'c1', from: 0, to: frames.c1, speed: '1' },
        { run: 'c3', from: 0, to: frames.c3, speed: '1' },
        { run: 'c2', from: contact.c2 - 110, to: contact.c2 + 70, speed: '1' },
        {
          pair: [
            { clip: 'c2', event: 'e2', frame: wide(pixel('c2', 'hip.mid', contact.c2)) },
            { clip: 'c4', event: 'e4', frame: wide(pixel('c4', 'hip.mid', contact.c4)) },
          ],
          before: '1',
          after: '4/5',
          speed: '1',
          layout: 'above',
        },
      ],
    },
    { id: 'p10', text: [], shots: () => [{ card: 'end', lines: CLOSING }] },
  ]
}

/// A 16:9 rectangle of `width` within the picture about a point.
function rectangleAbout(
  [x, y]: readonly [number, number],
  width: number,
  [dx, dy]: readonly [number, number],
): [number, number, number, number] {
  const height = (width * 9) / 16
  const left = Math.min(1280 - width, Math.max(0, x + dx - width / 2))
  const top = Math.min(720 - height, Math.max(0, y + dy - height / 2))
  return [Math.round(left), Math.round(top), width, height]
}

/// The full height, as wide as half a 16:9 picture, about a place.
const tall = ([x]: readonly [number, number], shift: number): [number, number, number, number] => [
  Math.round(Math.min(640, Math.max(0, x + shift - 320))),
  0,
  640,
  720,
]

/// The full width, high enough for the whole figure, about a place.
const wide = ([, y]: readonly [number, number]): [number, number, number, number] => [
  0,
  Math.round(Math.min(200, Math.max(0, y - 270))),
  1280,
  520,
]
