import { readingsOf } from '../../../app/measure/readings'
import type { Breakdown } from '../../../app/project/breakdown'
import type { Measure } from '../../../app/project/question'
import { evenFrameTable } from '../../../app/time/frame-table'
import type { Comparison, Contender } from '../comparison'

const POINTS: Readonly<Record<string, readonly [number, number]>> = {
  'hip.left': [600, 300],
  'hip.right': [630, 302],
  'knee.left': [640, 400],
  'knee.right': [590, 402],
  'ankle.left': [600, 500],
  'ankle.right': [520, 498],
  'shoulder.left': [610, 180],
  'shoulder.right': [650, 184],
}

/// Measures of the closed-form kinds in equal shares, 50 a clip, each point placed three times on
/// every frame that is asked.
function breakdownOf(measures: number): Breakdown {
  const clips = Array.from({ length: Math.ceil(measures / 50) }, (_, i) => `c${i}`)
  const frames = Array.from({ length: 30 }, (_, i) => 10 * i)
  const seeded = (n: number): number => ((n * 2654435761) % 1000) / 250 - 2
  return {
    format: 'claimframe-breakdown',
    version: 1,
    title: 'A season',
    output: { width: 1920, height: 1080, rate: '60/1' },
    footage: [{ id: 'f1', file: 'season.mp4' }],
    subjects: [{ id: 's1', name: 'Nela Varga' }],
    clips: clips.map((id) => ({ id, footage: 'f1', from: 0, to: 1000, capture: { factor: '4', u: 0.1 }, roll: { deg: 1, u: 1 } })),
    views: clips.map((clip) => ({
      clip,
      subject: 's1',
      from: 0,
      to: 1000,
      lead: 'left',
      yaw: { deg: 5, u: 5 },
      elevation: { deg: 5, u: 3 },
    })),
    events: clips.flatMap((clip) => [
      { id: `${clip}.a`, clip, name: 'plant', earliest: 40, latest: 41 },
      { id: `${clip}.b`, clip, name: 'contact', earliest: 90, latest: 90 },
    ]),
    landmarks: clips.flatMap((clip, c) =>
      Object.entries(POINTS).map(([point, [x, y]], p) => ({
        clip,
        subject: 's1',
        point,
        samples: frames.flatMap((frame) =>
          [0, 1, 2].map((k) => ({
            frame,
            at: [x + seeded(c + 7 * p + frame + k), y + seeded(c + 11 * p + frame + 3 * k)] as [number, number],
          })),
        ),
      })),
    ),
    measures: Array.from({ length: measures }, (_, i): Measure => {
      const clip = clips[Math.floor(i / 50)]!
      const on = { id: `m${i}`, clip, subject: 's1', frame: frames[i % frames.length]! }
      const between = { id: `m${i}`, clip, from: `${clip}.a`, to: `${clip}.b` }
      const kinds: readonly Measure[] = [
        { ...on, kind: 'joint-angle', points: ['hip.left', 'knee.left', 'ankle.left'] },
        { ...on, kind: 'line-lean', points: ['hip.mid', 'shoulder.mid'] },
        { ...on, kind: 'line-angle', points: ['hip.left', 'hip.right', 'shoulder.left', 'shoulder.right'] },
        {
          ...on,
          kind: 'distance',
          points: ['ankle.left', 'ankle.right'],
          unit: { points: ['hip.left', 'knee.left'], frame: 0, name: 'thigh lengths' },
        },
        { ...between, kind: 'time-between' },
        { ...between, kind: 'frame-count' },
        { ...between, kind: 'order' },
      ]
      return kinds[i % kinds.length]!
    }),
    script: [],
  }
}

const recompute = (measures: number, wanted?: Contender['wanted']): Contender => ({
  name: `${measures.toLocaleString('en')} measures over ${(measures / 50).toLocaleString('en')} clips`,
  ...(wanted ? { wanted } : {}),
  async run() {
    const breakdown = breakdownOf(measures)
    const table = evenFrameTable(1000, { n: 60, d: 1 })
    const [started, before] = [performance.now(), process.cpuUsage()]
    const readings = readingsOf(breakdown, () => table)
    const milliseconds = performance.now() - started
    const { user, system } = process.cpuUsage(before)
    if (readings.some((r) => r.value === null)) throw new Error('a measure was refused that should be given')
    return { milliseconds, 'µs a measure': (1000 * milliseconds) / measures, 'ms of processor time': (user + system) / 1000 }
  },
})

export const recomputeReadings: Comparison = {
  name: 'recompute-readings',
  question: 'Recomputing every closed-form measure of a breakdown from its landmarks and events, from nothing, 1,000 to 100,000 measures.',
  rounds: 5,
  contenders: [recompute(1000), recompute(10_000, { milliseconds: 500 }), recompute(100_000, { ratio: 100 })],
}
