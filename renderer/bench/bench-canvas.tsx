import { useEffect, useLayoutEffect, useRef, type Ref } from 'react'
import { paintBench, type BenchScene } from './bench-painting'

interface Props {
  readonly scene: BenchScene | null
  /// A second clip, on the right half.
  readonly beside?: BenchScene | null
  /// What stands on the stage for the scene's frame.
  readonly onDetail: (detail: 'missing' | 'small' | 'full') => void
  readonly ref: Ref<HTMLCanvasElement>
}

/// The stage's one canvas. It is painted anew when the scene changes, and when a better picture of its frame is there.
export function BenchCanvas({ scene, beside = null, onDetail, ref }: Props) {
  const canvas = useRef<HTMLCanvasElement | null>(null)
  const now = useRef({ scene, beside, onDetail })
  now.current = { scene, beside, onDetail }
  const paint = useRef(() => {
    const { scene: shown, beside: second, onDetail: tell } = now.current
    const surface = canvas.current?.getContext('2d', { alpha: false })
    if (!canvas.current || !surface || !shown) return
    const detail = paintBench(surface, shown, second)
    canvas.current.dataset['detail'] = detail
    canvas.current.dataset['ready'] = String(shown.film.readyAround(shown.frame))
    if (detail !== 'missing') {
      canvas.current.dataset['frame'] = String(shown.frame)
      canvas.current.dataset['points'] = String(shown.points.length)
      canvas.current.dataset['measures'] = shown.measures.join(' ')
      canvas.current.dataset['beside'] = second ? String(second.frame) : ''
    }
    tell(detail)
  })
  const film = scene?.film ?? null
  useEffect(
    () =>
      film?.listen((frame) => {
        const { scene: shown } = now.current
        if (frame === shown?.frame) paint.current()
        if (canvas.current && shown) canvas.current.dataset['ready'] = String(film.readyAround(shown.frame))
      }),
    [film],
  )
  const other = beside?.film ?? null
  useEffect(() => other?.listen((frame) => frame === now.current.beside?.frame && paint.current()), [other])
  useLayoutEffect(() => paint.current())
  const { width, height } = scene?.stage ?? { width: 16, height: 9 }
  const density = scene?.density ?? 1
  return (
    <canvas
      ref={(element) => {
        canvas.current = element
        if (typeof ref === 'function') ref(element)
        else if (ref) ref.current = element
      }}
      className="bench-canvas"
      width={Math.round(width * density)}
      height={Math.round(height * density)}
      aria-hidden="true"
    />
  )
}
