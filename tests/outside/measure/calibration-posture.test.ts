import { describe, expect, test } from 'vitest'
import { readingsOf } from '../../../app/measure/readings'
import type { Measure } from '../../../app/project/question'
import { expectCalibrated, FIGURES, UNSEEN_AZIMUTHS } from './calibration'
import { Coverage } from './coverage'
import { clipOf, EXACT, filmed, placedBy } from './filmed'
import { seeded } from './random'
import { cameraAround, readTrial } from './trial'

/// Calibration of drawn lines on a captured kick (mocap.cs.cmu.edu, 10_05), tuned on the captured
/// boxer (13_18): clicks of 2 px, one anatomical offset of 1 % of height per landmark and clip, or a
/// stated σ of 3 px and no offset; the camera's roll known within 1°, or not stated and within the 2°
/// that are then taken. Truth: the exact projection by the same camera held upright.

const FRAMES_A_CLIP = 10
const SIDES = ['left', 'right'] as const

function run(): Coverage {
  const trial = readTrial('cmu_10_05')
  const random = seeded(1005)
  const coverage = new Coverage()
  for (let n = 0; n < 12; n++)
    for (const figure_px of FIGURES)
      for (const azimuth_deg of UNSEEN_AZIMUTHS) {
        const stated = n % 2 === 0
        const rollStated = n % 3 !== 2
        const frames = [...new Set(Array.from({ length: FRAMES_A_CLIP }, () => Math.floor(random.uniform() * trial.poses.length)))].sort(
          (a, b) => a - b,
        )
        const poses = new Map(frames.map((f) => [f, trial.poses[f]!] as const))
        const place = { azimuth_deg, elevation_deg: 15 * random.uniform(), figure_px, distance_m: 9 }
        const upright = cameraAround(trial, trial.poses[frames[5] ?? frames[0]!]!, place)
        const camera = cameraAround(trial, trial.poses[frames[5] ?? frames[0]!]!, {
          ...place,
          roll_deg: (rollStated ? 1 : 2) * random.normal(),
        })
        const measures = frames.flatMap((frame): Measure[] => {
          const on = { clip: 'c', subject: 's', frame }
          return [
            { ...on, id: `trunk${frame}`, kind: 'line-lean', points: ['hip.mid', 'shoulder.mid'] },
            // A line that is short on many pictures.
            { ...on, id: `hips${frame}`, kind: 'line-lean', points: ['hip.right', 'hip.left'] },
            { ...on, id: `lines${frame}`, kind: 'line-angle', points: ['hip.left', 'hip.right', 'shoulder.left', 'shoulder.right'] },
            ...SIDES.flatMap((side): Measure[] => [
              { ...on, id: `shin${side}${frame}`, kind: 'line-lean', points: [`ankle.${side}`, `knee.${side}`] },
              {
                ...on,
                id: `limbs${side}${frame}`,
                kind: 'line-angle',
                points: [`hip.${side}`, `knee.${side}`, `shoulder.${side}`, `elbow.${side}`],
              },
            ]),
          ]
        })
        const film = (placed: ReturnType<typeof placedBy>, roll: { roll?: { deg: number; u: number } }) => {
          const { roll: _, ...clip } = clipOf('c')
          return readingsOf(
            filmed({ clips: [{ ...clip, ...roll }], landmarks: placed.map((l) => ({ clip: 'c', ...l })), measures }),
            () => null,
          )
        }
        const exact = film(placedBy(upright, poses, EXACT, random), { roll: { deg: 0, u: 0 } })
        const placing = stated ? { click_px: 3, anatomical_px: 0, stated } : { click_px: 2, anatomical_px: 0.01 * figure_px, stated }
        film(placedBy(camera, poses, placing, random), rollStated ? { roll: { deg: 0, u: 1 } } : {}).forEach((reading, i) => {
          const truth = exact[i]!.value
          if (truth !== null) coverage.note(reading.kind, reading, truth, reading.kind === 'line-lean' ? 360 : undefined)
        })
      }
  return coverage
}

/// A clinician's error at an elbow on a photograph, degrees: normal, 70.8 % within ± 5°
/// (Abu-Rajab 2010, European Journal of Orthopaedic Surgery and Traumatology, 116 judges).
const JUDGED_U = 5 / 1.0537

describe('95 % intervals of drawn lines, on motion and cameras never tuned on', () => {
  const coverage = run()

  test.each(['line-lean', 'line-angle'])('%s: 93–98 % hold the truth, none wider than needed, in every verdict', (name) => {
    expectCalibrated(coverage, name, 'normal')
    expect([...coverage.score(name).byVerdict.keys()].sort()).toEqual(['good', 'range', 'warned'])
  })
})

describe('95 % intervals of what is judged by eye', () => {
  test('a limb seen from the side: at least 93 % hold the truth, with the error that judges of photographs had', () => {
    const random = seeded(1006)
    const coverage = new Coverage()
    const truths = Array.from({ length: 2000 }, () => 20 + 140 * random.uniform())
    const measures = truths.map((truth, i): Measure => ({
      id: `e${i}`,
      kind: 'by-eye',
      clip: 'c',
      subject: 's',
      frame: 0,
      what: 'left elbow',
      value: truth + JUDGED_U * random.normal(),
      unit: '°',
      seen: 'planar',
    }))
    readingsOf(filmed({ clips: [clipOf('c')], landmarks: [], measures }), () => null).forEach((reading, i) =>
      coverage.note('by-eye', reading, truths[i]!),
    )
    expectCalibrated(coverage, 'by-eye', 'bounded')
  })
})
