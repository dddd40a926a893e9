import { useEffect, useRef } from 'react'
import { stillAddress } from '../../app/contract/addresses'
import { paintCanvas } from '../../app/marks/canvas'
import type { DrawContext } from '../../app/marks/draw-context'
import { drawFrame } from '../../app/marks/frame-drawing'
import { pictureAt } from '../../app/programme/picture-at'
import type { Picture, Programme } from '../../app/programme/programme'
import { keptStill } from './still-cache'

/// One frame of the programme as it will be rendered: exact frames, marks and labels from the render's own
/// description, painted in one task on one canvas.
export function ProgrammePicture({ programme, context, frame }: { readonly programme: Programme; readonly context: DrawContext; readonly frame: number }) {
  const canvas = useRef<HTMLCanvasElement>(null)
  useEffect(() => {
    let wanted = true
    const picture = pictureAt(programme, frame)
    void Promise.all(picture.panels.map((panel) => keptStill(stillAddress(panel.footage, panel.frame)))).then((stills) => {
      const surface = canvas.current?.getContext('2d')
      if (wanted && surface) paint(surface, picture, stills, context)
    })
    return () => {
      wanted = false
    }
  }, [programme, context, frame])
  const shot = programme.shots.find((s) => frame >= s.start && frame < s.start + s.frames)
  return <canvas ref={canvas} className="picture" width={programme.width} height={programme.height} role="img" aria-label={`Programme frame ${frame}: ${shot?.kind ?? ''} ${shot?.badges.join(', ') ?? ''}`} />
}

function paint(surface: CanvasRenderingContext2D, picture: Picture, stills: readonly (ImageBitmap | null)[], context: DrawContext): void {
  surface.setTransform(1, 0, 0, 1, 0, 0)
  surface.globalAlpha = 1
  surface.fillStyle = '#101214'
  surface.fillRect(0, 0, context.width, context.height)
  surface.imageSmoothingQuality = 'high'
  picture.panels.forEach((panel, i) => {
    const still = stills[i]
    if (!still) return
    const [x, y, width, height] = panel.place
    const { a, b, c, d, e, f } = panel.toCanvas
    surface.save()
    surface.beginPath()
    surface.rect(x, y, width, height)
    surface.clip()
    surface.globalAlpha = panel.opacity
    surface.setTransform(a, b, c, d, e, f)
    surface.drawImage(still, 0, 0)
    surface.restore()
  })
  paintCanvas(surface, drawFrame(picture, context), context.typeface)
}
