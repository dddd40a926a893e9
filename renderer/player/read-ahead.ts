/// How many frames on either side of a cursor are read ahead, and the room that this takes.

interface Size {
  readonly width: number
  readonly height: number
}

/// The frames ready on either side where there is room for them.
export const FAR = 30
/// Small pictures beyond that which are kept for turning round.
const SPARE = 8
const SMALL_SIDE = 960

/// Room that a film's cursors ask for, bytes. `least`: for what stands on the canvas, which is never without it.
export interface Room {
  readonly least: number
  readonly bytes: number
}

/// As the engine makes stand-ins: the longer side 960 at most.
export function smallSize({ width, height }: Size): Size {
  const scale = Math.min(1, SMALL_SIDE / Math.max(width, height))
  return { width: Math.max(2, Math.round(width * scale)), height: Math.max(2, Math.round(height * scale)) }
}

/// What so many cursors in one film need: for each its small pictures and some that it comes by, the whole one and the one
/// before.
export function roomFor(cursors: number, picture: Size): Room {
  const [small, whole] = bytesOf(picture)
  return { least: cursors * (small + whole), bytes: cursors * ((2 * FAR + 1 + SPARE) * small + 2 * whole) }
}

/// On how many frames to either side of each of its cursors a film may read ahead within `bytes`: what it then needs fits in,
/// so that nothing which it has just read is let go of to be read again.
export function reachWithin(bytes: number, cursors: number, picture: Size): number {
  const [small, whole] = bytesOf(picture)
  const pictures = (bytes / Math.max(1, cursors) - 2 * whole) / small
  return Math.max(0, Math.min(FAR, Math.floor((pictures - 1) / 2)))
}

function bytesOf(picture: Size): readonly [small: number, whole: number] {
  const small = smallSize(picture)
  return [4 * small.width * small.height, 4 * picture.width * picture.height]
}
