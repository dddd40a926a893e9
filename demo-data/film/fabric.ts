import { ARMHOLE, NECKLINE } from './body'
import { BAG_BOTTOM, BAG_RADIUS, BAG_TOP } from './bag'
import { cloud, clouds, smoothstep } from './noise'
import type { Vector } from './quaternion'

/// Colours of skin, cloth and leather, fixed to the body in its rest pose, so that whatever is
/// seen on a limb stays on it. No pattern is centred on a joint. Linear light, 0–1.

export interface Kit {
  readonly skin: Vector
  readonly trunks: Vector
  readonly trunksTrim: Vector
  readonly glove: Vector
  readonly gloveTrim: Vector
  readonly shoe: Vector
  readonly headguard: Vector
  readonly vest: Vector
  readonly vestTrim: Vector
  readonly bag: Vector
  readonly bagTrim: Vector
}

/// Writes the colour of a point of `material` (index into MATERIALS) whose rest place is (x, y, z);
/// `quick` and `slow` are the material's mottle there.
export function colourAt(
  kit: Kit,
  material: number,
  x: number,
  y: number,
  z: number,
  quick: number,
  slow: number,
  out: Float32Array,
): void {
  switch (material) {
    case 0:
      return skin(kit, x, y, z, quick, slow, out)
    case 1:
      return trunks(kit, x, y, z, quick, slow, out)
    case 2:
      return glove(kit, x, y, z, quick, slow, out)
    case 3:
      return shoe(kit, x, y, z, quick, slow, out)
    case 4:
      return headguard(kit, x, y, z, quick, slow, out)
    case 6:
      return vest(kit, x, y, z, quick, slow, out)
    default:
      return bag(kit, y, quick, slow, out)
  }
}

function put(out: Float32Array, c: Vector, k: number): void {
  out[0] = c[0] * k
  out[1] = c[1] * k
  out[2] = c[2] * k
}

function mix(out: Float32Array, c: Vector, part: number): void {
  out[0]! += (c[0] - out[0]!) * part
  out[1]! += (c[1] - out[1]!) * part
  out[2]! += (c[2] - out[2]!) * part
}

const STEEL: Vector = [0.24, 0.25, 0.27]
const STRAP: Vector = [0.03, 0.03, 0.032]
const SOCK: Vector = [0.5, 0.5, 0.52]

function skin(kit: Kit, x: number, y: number, z: number, quick: number, slow: number, out: Float32Array): void {
  const fine = cloud(75 * x, 75 * y, 75 * z)
  put(out, kit.skin, 1 + 0.16 * quick + 0.07 * fine)
  out[0]! *= 1 + 0.08 * slow
  out[2]! *= 1 - 0.06 * slow
  if (y < -0.6) mix(out, SOCK, smoothstep(-0.625, -0.628, y) * (0.9 + 0.1 * Math.sign(Math.sin(700 * y))))
  if (y > 0.6) {
    const brow =
      smoothstep(0.006, 0.003, Math.abs(y - 0.722 + 0.06 * (Math.abs(x) - 0.03) ** 2 * 40)) *
      smoothstep(0.012, 0.018, Math.abs(x)) *
      smoothstep(0.052, 0.045, Math.abs(x)) *
      smoothstep(0.06, 0.07, z)
    const eye = smoothstep(1, 0.6, ((Math.abs(x) - 0.031) / 0.014) ** 2 + ((y - 0.699) / 0.005) ** 2) * smoothstep(0.05, 0.06, z)
    const mouth = smoothstep(1, 0.5, (x / 0.022) ** 2 + ((y - 0.643) / 0.0035) ** 2) * smoothstep(0.06, 0.07, z)
    mix(out, [0.02, 0.014, 0.012], Math.max(0.75 * brow, 0.85 * eye))
    mix(out, [0.16, 0.05, 0.045], 0.8 * mouth)
    if (z < 0.055 || y > 0.76) mix(out, [0.02, 0.016, 0.014], 0.9 * smoothstep(0.655, 0.675, y))
  }
}

function trunks(kit: Kit, x: number, y: number, z: number, quick: number, slow: number, out: Float32Array): void {
  const weave = 0.05 * Math.sin(900 * y) * Math.sin(900 * (x + z))
  put(out, kit.trunks, 1 + 0.16 * quick + 0.08 * slow + weave)
  const side = smoothstep(0.03, 0.026, Math.abs(z + 0.004)) * smoothstep(0.09, 0.1, Math.abs(x))
  const band = smoothstep(0.094, 0.097, y)
  const hem = smoothstep(-0.212, -0.215, y)
  mix(out, kit.trunksTrim, Math.max(side, band, hem) * (0.96 + 0.04 * Math.sin(500 * y)))
  mix(out, kit.trunks, 0.9 * band * smoothstep(0.004, 0.002, Math.abs(y - 0.118)))
}

function glove(kit: Kit, x: number, y: number, z: number, quick: number, slow: number, out: Float32Array): void {
  const along = Math.abs(x)
  put(out, kit.glove, 1 + 0.16 * quick + 0.08 * slow)
  const cuff = smoothstep(0.668, 0.665, along)
  mix(out, kit.gloveTrim, cuff)
  mix(out, kit.glove, cuff * smoothstep(0.004, 0.002, Math.abs(along - 0.628)))
  const seam = smoothstep(0.0025, 0.001, Math.abs(z - 0.062 - 0.3 * (along - 0.72))) * (1 - cuff)
  put(out, [out[0]!, out[1]!, out[2]!], 1 - 0.5 * seam)
  const patch = smoothstep(1, 0.8, ((along - 0.735) / 0.034) ** 2 + ((z - 0.035) / 0.026) ** 2) * (y > 0.5 ? 1 : 0)
  mix(out, kit.gloveTrim, 0.85 * patch)
}

function shoe(kit: Kit, x: number, y: number, z: number, quick: number, slow: number, out: Float32Array): void {
  put(out, kit.shoe, 1 + 0.14 * quick + 0.08 * slow)
  mix(out, [0.62, 0.62, 0.6], smoothstep(-0.832, -0.836, y))
  const lace = z > -0.01 && Math.abs(Math.abs(x) - 0.085) < 0.016 && y > -0.8 ? smoothstep(0.3, 0.6, Math.sin(330 * (y + z))) : 0
  mix(out, [0.7, 0.7, 0.68], lace)
  const stripe = smoothstep(0.008, 0.006, Math.abs(y + 0.79 - 0.55 * (z + 0.02))) * smoothstep(-0.1, -0.09, z) * smoothstep(0.07, 0.06, z)
  mix(out, [0.66, 0.66, 0.64], stripe * (Math.abs(Math.abs(x) - 0.085) > 0.02 ? 0.9 : 0))
}

function headguard(kit: Kit, x: number, y: number, z: number, quick: number, slow: number, out: Float32Array): void {
  put(out, kit.headguard, 1 + 0.14 * quick + 0.08 * slow)
  const seam = Math.max(smoothstep(0.003, 0.001, Math.abs(y - 0.738)), smoothstep(0.003, 0.001, Math.abs(z - 0.022)))
  put(out, [out[0]!, out[1]!, out[2]!], 1 - 0.45 * seam)
  mix(out, kit.gloveTrim, 0.85 * smoothstep(0.012, 0.01, Math.abs(y - 0.768)) * smoothstep(0.05, 0.045, Math.abs(x)) * (z > 0.07 ? 1 : 0))
}

const BAG_ACROSS = 512
const BAG_UP = 768
const bagPictures = new WeakMap<Kit, Float32Array>()

/// The bag's leather is painted once and then looked up: it fills much of the picture.
function bag(kit: Kit, y: number, u: number, v: number, out: Float32Array): void {
  if (v < -0.5) return y > 2.03 ? put(out, STEEL, 0.75 + 0.45 * Math.sin(150 * y)) : put(out, STRAP, 1 + 0.2 * Math.sin(260 * y))
  let picture = bagPictures.get(kit)
  if (!picture) bagPictures.set(kit, (picture = paintLeather(kit)))
  const a = Math.min(BAG_ACROSS - 1, Math.max(0, (u * BAG_ACROSS) | 0))
  const b = Math.min(BAG_UP - 1, Math.max(0, (v * BAG_UP) | 0))
  const i = (b * BAG_ACROSS + a) * 3
  out[0] = picture[i]!
  out[1] = picture[i + 1]!
  out[2] = picture[i + 2]!
}

function paintLeather(kit: Kit): Float32Array {
  const picture = new Float32Array(BAG_ACROSS * BAG_UP * 3)
  const out = new Float32Array(3)
  for (let b = 0; b < BAG_UP; b++)
    for (let a = 0; a < BAG_ACROSS; a++) {
      const angle = (2 * Math.PI * (a + 0.5)) / BAG_ACROSS
      const [x, z] = [BAG_RADIUS * Math.cos(angle), BAG_RADIUS * Math.sin(angle)]
      const y = BAG_BOTTOM + ((b + 0.5) / BAG_UP) * (BAG_TOP - BAG_BOTTOM)
      put(out, kit.bag, 1 + 0.24 * clouds(13 * x, 13 * y, 13 * z) + 0.1 * cloud(60 * x, 8 * y, 60 * z))
      const band = Math.max(smoothstep(0.055, 0.052, Math.abs(y - 1.5)), smoothstep(0.03, 0.028, Math.abs(y - 0.78)))
      mix(out, kit.bagTrim, 0.92 * band)
      const worn = smoothstep(0.1, 0.45, clouds(6 * x, 6 * y + 11, 6 * z)) * smoothstep(0.35, 0.1, Math.abs(y - 1.2))
      mix(out, [0.3, 0.24, 0.2], 0.16 * worn)
      const seam = Math.max(
        smoothstep(0.004, 0.002, Math.abs(y - 1.435)),
        smoothstep(0.004, 0.002, Math.abs(y - 0.86)),
        smoothstep(0.02, 0.01, Math.abs(angle - 1.1)),
      )
      put(out, [out[0]!, out[1]!, out[2]!], 1 - 0.55 * seam)
      picture.set(out, (b * BAG_ACROSS + a) * 3)
    }
  return picture
}

function vest(kit: Kit, x: number, y: number, z: number, quick: number, slow: number, out: Float32Array): void {
  const weave = 0.06 * Math.sin(800 * y) * Math.sin(800 * (x + z))
  put(out, kit.vest, 1 + 0.16 * quick + 0.1 * slow + weave)
  const bare = (at: readonly [number, number, number], reach: readonly [number, number, number], px: number): number =>
    Math.sqrt(((px - at[0]) / reach[0]) ** 2 + ((y - at[1]) / reach[1]) ** 2 + ((z - at[2]) / reach[2]) ** 2)
  const neck = bare(NECKLINE.at, NECKLINE.reach, x)
  const arm = bare(ARMHOLE.at, ARMHOLE.reach, Math.abs(x))
  const edge = Math.max(smoothstep(1.14, 1.12, neck), smoothstep(1.14, 1.12, arm))
  const stripe = smoothstep(0.021, 0.019, Math.abs(y - 0.3 - 0.25 * Math.abs(x)))
  const thin = smoothstep(0.006, 0.005, Math.abs(y - 0.262 - 0.25 * Math.abs(x)))
  mix(out, kit.vestTrim, 0.94 * Math.max(edge, stripe, thin))
}
