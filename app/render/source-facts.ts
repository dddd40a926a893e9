import type { Film } from '../project/scanned-film'
import { seekTo } from '../project/scanned-film'
import type { SourceFacts } from './picture-graph'

const MATRICES: Readonly<Record<string, SourceFacts['matrix']>> = {
  bt709: 'bt709',
  bt470bg: 'bt601',
  smpte170m: 'bt601',
  smpte240m: 'smpte240m',
  fcc: 'fcc',
  bt2020nc: 'bt2020',
  bt2020c: 'bt2020',
}

/// What the renderer must do to a film's pictures. A film that does not name its colour matrix is taken
/// as BT.709 from 720 lines on and BT.601 below, as players do (common practice, no source).
export function sourceFacts(film: Film, abilities: { readonly zscale: boolean }): SourceFacts {
  const { head } = film
  const lying = head.rotation === 90 || head.rotation === 270
  const prepare: string[] = []
  // One picture per stored frame, so that frame indices stay what they are.
  if (head.fieldOrder === 'top' || head.fieldOrder === 'bottom')
    prepare.push(`yadif=mode=0:parity=${head.fieldOrder === 'top' ? 0 : 1}:deint=0`)
  const toneMapped = head.colour.hdr && abilities.zscale
  if (toneMapped)
    prepare.push(
      'zscale=t=linear:npl=100',
      'format=gbrpf32le',
      'zscale=p=bt709',
      'tonemap=tonemap=hable:desat=0',
      'zscale=t=bt709:m=bt709:r=tv',
      'format=yuv420p',
    )
  return {
    decoded: lying ? { width: head.coded.height, height: head.coded.width } : head.coded,
    matrix: toneMapped ? 'bt709' : (MATRICES[head.colour.matrix ?? ''] ?? (head.height >= 720 ? 'bt709' : 'bt601')),
    fullRange: !toneMapped && head.colour.range === 'pc',
    prepare,
    stream: head.stream,
    seek: (frame) => seekTo(film, frame),
  }
}
