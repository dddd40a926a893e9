import { useEffect, useLayoutEffect, useRef, type Ref } from 'react'
import { paintBench, type BenchScene } from './bench-painting'

interface Props {
  readonly scene: BenchScene | null
  /// What stands on the stage for the scene's frame.
  readonly onDetail: (detail: 'missing' | 'small' | 'full') => void
  readonly ref: Ref<HTMLCanvasElement>
}

/// The stage's one canvas. It is painted anew when the scene changes, and when a better picture of its frame is there.
export function BenchCanvas({ scene, onDetail, ref }: Props) {
  const canvas = useRef<HTMLCanvasElement | null>(null)
  const now = useRef({ scene, onDetail })
  now.current = { scene, onDetail }
  const paint = useRef(() => {
    const { scene: shown, onDetail: tell } = now.current
    const surface = canvas.current?.getContext('2d', { alpha: false })
    if (!canvas.current || !surface || !shown) return
    const detail = paintBench(surface, shown)
    canvas.current.dataset['detail'] = detail
    if (detail !== 'missing') canvas.current.dataset['frame'] = String(shown.frame)
    tell(detail)
  })
  const film = scene?.film ?? null
  useEffect(() => film?.listen((frame) => frame === now.current.scene?.frame && paint.current()), [film])
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
