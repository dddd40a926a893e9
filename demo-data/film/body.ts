import { above, below, blend, bothSides, bulge, common, flattened, limb, swollen, without, type Solid } from './solid'
import { surfaceOf, type Surface } from './surface'
import type { Figure } from './pose'
import { plus, unit, type Vector } from './quaternion'

/// The boxer's body and kit in the rest pose (arms out to the sides), as closed surfaces. The
/// shapes are drawn for this figure alone, from its own joints; they follow no scan of anyone.

export type Material = 'skin' | 'trunks' | 'glove' | 'shoe' | 'headguard' | 'vest'

export interface Part {
  readonly material: Material
  readonly surface: Surface
  /// What it fills at rest.
  readonly solid: Solid
  /// Joints that move it.
  readonly bones: readonly string[]
}

const SIDES = ['l', 'r'] as const
const both = (...names: string[]): string[] => names.flatMap((n) => SIDES.map((s) => s + n))

/// Radius of the glove's striking end, and how far its centre lies beyond the wrist, metres.
export const FIST_RADIUS = 0.068
export const FIST_REACH = 0.112
/// The shoe's sole below the ankle joint at rest, metres.
export const SOLE_BELOW_ANKLE = 0.056

/// What the vest leaves bare, at rest: ellipsoids about the neck and each shoulder (x ≥ 0).
export const NECKLINE = { at: [0, 0.615, 0.01], reach: [0.088, 0.135, 0.125] } as const
export const ARMHOLE = { at: [0.212, 0.478, -0.04], reach: [0.088, 0.13, 0.15] } as const

/// Unit vector of the (left) hand from the wrist to the knuckles at rest, seen from x ≥ 0.
export function handAxis(figure: Figure): Vector {
  const wrist = figure.rest[figure.index.get('lHand')!]!
  const knuckle = figure.rest[figure.index.get('lMid1')!]!
  return unit(plus(knuckle, wrist, -1))
}

export function bodyParts(figure: Figure): Part[] {
  const at = (name: string): Vector => figure.rest[figure.index.get(name)!]!
  const shoulder = at('lShldr')
  const elbow = at('lForeArm')
  const wrist = at('lHand')
  const hip = at('lThigh')
  const knee = at('lShin')
  const ankle = at('lFoot')
  const hand = handAxis(figure)
  const mid = (a: Vector, b: Vector, k: number, lift: Vector = [0, 0, 0]): Vector => [
    a[0] + (b[0] - a[0]) * k + lift[0],
    a[1] + (b[1] - a[1]) * k + lift[1],
    a[2] + (b[2] - a[2]) * k + lift[2],
  ]

  const trunk = blend(
    0.06,
    bulge([0, 0.02, -0.01], [0.155, 0.115, 0.105]),
    flattened(limb([0, 0.08, -0.005], [0, 0.24, -0.015], 0.138, 0.132), -0.01, 0.76),
    bulge([0, 0.36, -0.03], [0.172, 0.19, 0.118]),
  )
  const pectoral = bulge([0.078, 0.415, 0.058], [0.086, 0.062, 0.042])
  const back = bulge([0.1, 0.37, -0.09], [0.085, 0.15, 0.055])
  const slope = limb([0.015, 0.575, -0.045], [0.15, 0.512, -0.048], 0.046, 0.042)
  const deltoid = bulge([shoulder[0] + 0.018, shoulder[1] - 0.004, shoulder[2]], [0.082, 0.066, 0.068])
  const neck = limb([0, 0.5, -0.045], [0, 0.64, -0.015], 0.064, 0.058)
  const arm = blend(
    0.03,
    limb(shoulder, elbow, 0.05, 0.04),
    bulge(mid(shoulder, elbow, 0.5, [0, 0.004, 0.022]), [0.095, 0.044, 0.042]),
    bulge(mid(shoulder, elbow, 0.46, [0, 0.002, -0.022]), [0.1, 0.044, 0.042]),
    limb(elbow, wrist, 0.04, 0.03),
    bulge(mid(elbow, wrist, 0.3, [0, 0.004, 0.008]), [0.085, 0.046, 0.046]),
  )
  const leg = blend(
    0.04,
    limb([hip[0] + 0.006, hip[1] - 0.04, hip[2]], [knee[0], knee[1] + 0.03, knee[2]], 0.086, 0.056),
    bulge([hip[0] + 0.012, hip[1] - 0.17, hip[2] + 0.035], [0.068, 0.17, 0.056]),
    bulge([hip[0] - 0.002, hip[1] - 0.03, hip[2] - 0.07], [0.086, 0.09, 0.068]),
    bulge([knee[0], knee[1], knee[2] + 0.014], [0.052, 0.06, 0.05]),
    limb(knee, ankle, 0.05, 0.036),
    bulge(mid(knee, ankle, 0.3, [0.004, 0, -0.022]), [0.052, 0.12, 0.05]),
  )
  const skull = blend(0.03, bulge([0, 0.722, -0.008], [0.076, 0.1, 0.096]), bulge([0, 0.66, 0.028], [0.056, 0.062, 0.064]))
  const face = blend(
    0.014,
    skull,
    limb([0, 0.7, 0.09], [0, 0.674, 0.104], 0.01, 0.014),
    bulge([0, 0.717, 0.078], [0.056, 0.014, 0.018]),
    bothSides(bulge([0.04, 0.676, 0.066], [0.022, 0.018, 0.02])),
    bulge([0, 0.618, 0.072], [0.022, 0.016, 0.02]),
    bulge([0, 0.645, 0.088], [0.024, 0.008, 0.01]),
  )
  const sockets = bothSides(bulge([0.03, 0.699, 0.098], [0.017, 0.011, 0.014]))
  const chest = blend(0.035, trunk, pectoral, back)
  const skin = bothSides(blend(0.05, chest, slope, deltoid, neck, arm, leg))
  const flesh: Solid = blend(0.02, skin, without(face, sockets, 0.012))

  const ridged: Solid = (x, y, z) =>
    blendedTorso(Math.abs(x), y, z) + 0.0025 * Math.sin(46 * y + 7 * Math.sin(11 * x)) * Math.sin(19 * x + 3) - (z < 0 ? 0 : 0.002)
  const blendedTorso = swollen(blend(0.05, chest, slope, deltoid, neck), 0.011)
  const vest = without(
    without(common(common(ridged, below(0.56)), above(0.06)), bulge(NECKLINE.at, NECKLINE.reach), 0.008),
    bothSides(bulge(ARMHOLE.at, ARMHOLE.reach)),
    0.008,
  )

  const cloth = blend(
    0.05,
    bulge([0, 0.04, -0.008], [0.175, 0.135, 0.132]),
    flattened(limb([0, 0.05, -0.005], [0, 0.16, -0.008], 0.158, 0.15), -0.008, 0.8),
    limb([hip[0] + 0.012, hip[1] - 0.05, hip[2] + 0.002], [hip[0] + 0.03, hip[1] - 0.27, hip[2] + 0.012], 0.108, 0.112),
  )
  const folds: Solid = (x, y, z) => {
    const around = Math.atan2(z - hip[2], Math.abs(x) - hip[0] - 0.02)
    const down = Math.min(1, Math.max(0, (0.06 - y) / 0.25))
    return (
      0.006 * down * Math.sin(6 * around + 5 * Math.sin(9 * y + (x > 0 ? 1 : 0))) +
      0.003 * Math.sin(38 * y + 4 * around) * down * (1 - down)
    )
  }
  const seat = swollen(bulge([hip[0] - 0.002, hip[1] - 0.03, hip[2] - 0.07], [0.086, 0.09, 0.068]), 0.022)
  const thigh = swollen(bulge([hip[0] + 0.012, hip[1] - 0.17, hip[2] + 0.035], [0.068, 0.17, 0.056]), 0.02)
  const worn = blend(0.06, cloth, seat, thigh)
  const draped: Solid = (x, y, z) => worn(Math.abs(x), y, z) + folds(x, y, z)
  const fork: Solid = (x, y) => (Math.abs(x) - 0.3 * (-0.095 - y)) * 0.95
  const trunks = without(common(common(draped, below(0.145)), above(-0.232)), fork, 0.02)

  const palm = plus(wrist, hand, FIST_REACH)
  const glove = blend(
    0.03,
    limb(plus(wrist, hand, 0.045), palm, 0.055, FIST_RADIUS - 0.002),
    bulge([palm[0], palm[1] - 0.006, palm[2]], [0.07, 0.06, FIST_RADIUS]),
    limb(plus(wrist, hand, 0.05), plus(plus(wrist, hand, 0.12), [-0.012, -0.02, 0.075]), 0.03, 0.025),
    limb(plus(wrist, hand, -0.085), plus(wrist, hand, 0.02), 0.047, 0.046),
  )

  const sole = ankle[1] - SOLE_BELOW_ANKLE
  const foot = blend(
    0.025,
    limb([ankle[0] + 0.002, sole + 0.042, ankle[2] - 0.032], [ankle[0] + 0.012, sole + 0.034, ankle[2] + 0.12], 0.042, 0.035),
    limb([ankle[0] + 0.002, sole + 0.05, ankle[2]], [ankle[0] + 0.01, sole + 0.04, ankle[2] + 0.07], 0.05, 0.042),
    limb([ankle[0], ankle[1] + 0.13, ankle[2] + 0.002], [ankle[0], ankle[1], ankle[2]], 0.052, 0.048),
  )
  const shoe = common(common(foot, above(sole)), below(ankle[1] + 0.14))

  const guard = blend(
    0.018,
    without(swollen(skull, 0.02), bulge([0, 0.672, 0.125], [0.05, 0.066, 0.09]), 0.02),
    bulge([0, 0.768, 0.07], [0.072, 0.026, 0.036]),
    bothSides(bulge([0.07, 0.665, 0.05], [0.022, 0.048, 0.042])),
    bothSides(bulge([0.095, 0.7, -0.008], [0.016, 0.036, 0.032])),
  )
  const headguard = common(guard, above(0.612))

  const span: Vector = [wrist[0] + 0.06, 0.84, 0.2]
  const part = (material: Material, solid: Solid, low: Vector, high: Vector, cell: number, bones: string[]): Part => ({
    material,
    surface: surfaceOf(solid, low, high, cell),
    solid,
    bones,
  })
  const sided = (material: Material, solid: Solid, low: Vector, high: Vector, cell: number, ...bones: string[]): Part[] =>
    SIDES.map((side) => {
      const flip = side === 'l' ? 1 : -1
      const [a, b] = [low[0] * flip, high[0] * flip]
      return part(
        material,
        bothSides(solid),
        [Math.min(a, b), low[1], low[2]],
        [Math.max(a, b), high[1], high[2]],
        cell,
        bones.map((n) => side + n),
      )
    })
  const trunkBones = ['hip', 'abdomen', 'chest', 'neck', 'head']
  return [
    part('skin', flesh, [-span[0], -0.75, -0.17], [span[0], 0.85, 0.13], 0.0145, [
      ...trunkBones,
      ...both('Collar', 'Shldr', 'ForeArm', 'Hand', 'Thigh', 'Shin', 'Foot'),
    ]),
    part('trunks', trunks, [-0.27, -0.25, -0.19], [0.27, 0.16, 0.19], 0.014, ['hip', 'abdomen', ...both('Thigh')]),
    part('vest', vest, [-0.24, 0.05, -0.19], [0.24, 0.58, 0.14], 0.014, [...trunkBones, ...both('Collar', 'Shldr')]),
    part('headguard', headguard, [-0.13, 0.59, -0.14], [0.13, 0.86, 0.13], 0.011, ['head']),
    ...sided('glove', glove, [wrist[0] - 0.15, 0.38, -0.12], [wrist[0] + 0.22, 0.6, 0.22], 0.0115, 'ForeArm', 'Hand'),
    ...sided('shoe', shoe, [0.0, -0.92, -0.17], [0.17, -0.62, 0.15], 0.0115, 'Shin', 'Foot'),
  ]
}
