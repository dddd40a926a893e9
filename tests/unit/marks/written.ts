import type { Box } from '../../../app/marks/box'
import type { DrawContext } from '../../../app/marks/draw-context'
import { drawFrame } from '../../../app/marks/frame-drawing'
import { pictureOfShot } from '../../../app/programme/picture-at'
import type { Programme } from '../../../app/programme/programme'

/// Where each line of text lies that a film's frames really have drawn on them, frame by frame.
export function shotsWritten(programme: Programme, context: DrawContext, from: number, to: number): Box[] {
  const boxes = new Map<string, Box>()
  for (const shot of programme.shots)
    for (let at = Math.max(0, from - shot.start); at < Math.min(shot.frames, to - shot.start); at++)
      for (const shape of drawFrame(pictureOfShot(shot, at), context)) {
        if (shape.kind !== 'text' || shape.text.trim() === '') continue
        const width = context.typeface.advance(shape.text, shape.size, shape.weight)
        const x = shape.at[0] - (shape.align === 'left' ? 0 : shape.align === 'middle' ? width / 2 : width)
        const box = { x, y: shape.at[1] - 0.7 * shape.size, width, height: 0.9 * shape.size }
        boxes.set(JSON.stringify(box), box)
      }
  return [...boxes.values()]
}
