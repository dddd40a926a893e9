import { readFileSync } from 'node:fs'
import type { DrawContext } from '../../../app/marks/draw-context'
import { readTypeface, type Typeface } from '../../../app/marks/typeface'
import { measureContext } from '../../../app/measure/context'
import { readingsOf } from '../../../app/measure/readings'
import type { Reading } from '../../../app/measure/reading'
import { layShot } from '../../../app/programme/lay-shot'
import type { LaidShot } from '../../../app/programme/programme'
import type { Breakdown } from '../../../app/project/breakdown'
import type { Point } from '../../../app/project/fields'
import type { Shot } from '../../../app/project/picture'
import { evenFrameTable } from '../../../app/time/frame-table'
import { rational } from '../../../app/time/rational'

/// A made-up bout for drawing tests: one figure throwing a right hand, 120 frames of 1280 × 720 at 60 fps, side-on.

export const SOURCE = { width: 1280, height: 720 }
export const FRAMES = 120

const fontBytes = (file: string): ArrayBuffer => {
  const bytes = readFileSync(new URL(`../../../node_modules/@expo-google-fonts/atkinson-hyperlegible/${file}`, import.meta.url))
  return bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer
}

let read: Typeface | null = null
export const typeface = (): Typeface =>
  (read ??= readTypeface(
    fontBytes('400Regular/AtkinsonHyperlegible_400Regular.ttf'),
    fontBytes('700Bold/AtkinsonHyperlegible_700Bold.ttf'),
  ))

/// The figure's joints on a frame.
export function pose(frame: number): Record<string, Point> {
  const p = frame / (FRAMES - 1)
  const dx = 60 * p
  const reach = Math.sin((Math.PI * p) / 2)
  return {
    'head.top': [690 + dx, 105],
    'shoulder.left': [700 + dx, 235 + 6 * reach],
    'shoulder.right': [660 + dx + 20 * reach, 230],
    'elbow.right': [600 + dx + 130 * reach, 300 - 70 * reach],
    'wrist.right': [650 + dx + 210 * reach, 240 - 10 * reach],
    'elbow.left': [760 + dx, 300],
    'wrist.left': [790 + dx, 235],
    'hip.left': [690 + dx, 400],
    'hip.right': [640 + dx + 10 * reach, 400],
    'knee.left': [745 + dx, 500],
    'ankle.left': [735 + dx, 620],
    'knee.right': [590 + dx, 505],
    'ankle.right': [510 + dx, 615],
  }
}

export const limbs: readonly (readonly [string, string])[] = [
  ['shoulder.left', 'shoulder.right'],
  ['hip.left', 'hip.right'],
  ['shoulder.left', 'hip.left'],
  ['shoulder.right', 'hip.right'],
  ['shoulder.right', 'elbow.right'],
  ['elbow.right', 'wrist.right'],
  ['shoulder.left', 'elbow.left'],
  ['elbow.left', 'wrist.left'],
  ['hip.left', 'knee.left'],
  ['knee.left', 'ankle.left'],
  ['hip.right', 'knee.right'],
  ['knee.right', 'ankle.right'],
]

export function breakdownOf(
  output: { width: number; height: number } = { width: 1920, height: 1080 },
  more: Partial<Breakdown> = {},
): Breakdown {
  const frames = Array.from({ length: FRAMES }, (_, i) => i)
  const landmarks = ['c1', 'c2'].flatMap((clip) =>
    Object.keys(pose(0)).map((point) => ({
      clip,
      subject: 's1',
      point,
      samples: frames.map((frame) => ({
        frame,
        at: [...(pose(frame)[point] as Point)] as [number, number],
        sigma: 4,
        origin: 'tracked' as const,
      })),
    })),
  )
  const measure = { clip: 'c1', subject: 's1', frame: 60 }
  return {
    format: 'claimframe-breakdown',
    version: 1,
    title: 'Two right hands',
    question: 'Does the rear knee straighten before the fist arrives?',
    output: { ...output, rate: '60/1' },
    footage: [
      { id: 'f1', file: 'bout-a.mp4' },
      { id: 'f2', file: 'bout-b.mp4' },
    ],
    subjects: [{ id: 's1', name: 'Nela Varga' }],
    clips: [
      { id: 'c1', footage: 'f1', from: 0, to: FRAMES, capture: { factor: '1', u: 0 }, roll: { deg: 0, u: 1 } },
      { id: 'c2', footage: 'f2', from: 0, to: FRAMES, capture: { factor: '1', u: 0 }, roll: { deg: 0, u: 1 }, mirrored: true },
    ],
    views: ['c1', 'c2'].map((clip) => ({
      clip,
      subject: 's1',
      from: 0,
      to: FRAMES,
      lead: 'left' as const,
      yaw: { deg: 0, u: 5 },
      elevation: { deg: 5, u: 3 },
    })),
    events: [
      { id: 'e0', clip: 'c1', name: 'plant', earliest: 30, latest: 31 },
      { id: 'e1', clip: 'c1', name: 'contact', earliest: 60, latest: 60 },
      { id: 'e2', clip: 'c2', name: 'contact', earliest: 62, latest: 62 },
    ],
    landmarks,
    measures: [
      { id: 'knee', kind: 'joint-angle', ...measure, points: ['hip.right', 'knee.right', 'ankle.right'] },
      { id: 'elbow', kind: 'joint-angle', ...measure, points: ['shoulder.right', 'elbow.right', 'wrist.right'] },
      { id: 'lean', kind: 'line-lean', ...measure, points: ['hip.mid', 'shoulder.mid'] },
      { id: 'lines', kind: 'line-angle', ...measure, points: ['hip.right', 'hip.left', 'shoulder.right', 'shoulder.left'] },
      { id: 'time', kind: 'time-between', clip: 'c1', from: 'e0', to: 'e1' },
      { id: 'head', kind: 'joint-angle', ...measure, points: ['shoulder.right', 'neck.mid', 'head.top'] },
      { id: 'knee2', kind: 'joint-angle', ...measure, clip: 'c2', frame: 62, points: ['hip.right', 'knee.right', 'ankle.right'] },
    ],
    script: [],
    ...more,
  }
}

export function contextOf(breakdown: Breakdown, changes: Partial<DrawContext> = {}): DrawContext {
  const table = { ...evenFrameTable(FRAMES, rational(60)), picture: SOURCE }
  const readings = new Map<string, Reading>(readingsOf(breakdown, () => table).map((r) => [r.id, r]))
  return {
    measures: measureContext(breakdown, () => table),
    readings,
    typeface: typeface(),
    width: breakdown.output.width,
    height: breakdown.output.height,
    explainsErrorAt: null,
    ...changes,
  }
}

/// A shot of the scene, laid out as the film's first.
export function laid(shot: Shot, breakdown: Breakdown, changes: Partial<LaidShot> = {}): LaidShot {
  const table = { ...evenFrameTable(FRAMES, rational(60)), picture: SOURCE }
  const layout = layShot(shot, { breakdown, output: breakdown.output, film: () => ({ ...SOURCE, table }), cardSeconds: () => rational(4) })
  const eventAt = new Map<string, number>()
  for (const event of breakdown.events ?? []) {
    const at = layout.panels.find((p) => p.clip === event.clip)?.frames.findIndex((f) => f >= event.earliest) ?? -1
    if (at >= 0) eventAt.set(event.id, at)
  }
  return {
    paragraph: 'p1',
    index: 0,
    shot,
    kind: layout.kind,
    start: 0,
    frames: layout.frames,
    panels: layout.panels,
    card: layout.card,
    eventAt,
    badges: layout.badges,
    marks: 'card' in shot ? [] : (shot.marks ?? []),
    title: null,
    credit: null,
    ...changes,
  }
}
