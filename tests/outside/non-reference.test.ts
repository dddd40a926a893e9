import { mkdtemp, readFile, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { ALL_FORMATS, BufferSource, EncodedPacketSink, Input } from 'mediabunny'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { fileUrl } from '../../main/media/file-url'
import { findFfmpeg } from '../../main/media/find-ffmpeg'
import { runFfmpeg } from '../../main/media/process'
import { nonReferenceIn } from '../../renderer/player/non-reference'

/// Held against FFmpeg's own decoder, told to leave out what nothing refers to (`-skip_frame noref`).

let folder = ''
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'claimframe-non-reference-'))
})
afterAll(() => rm(folder, { recursive: true, force: true }))

const X264 = ['-c:v', 'libx264', '-preset', 'fast', '-g', '40']
const X265 = ['-c:v', 'libx265', '-preset', 'ultrafast', '-x265-params']
const FILMS: readonly { readonly name: string; readonly coding: readonly string[]; readonly leaves: boolean }[] = [
  { name: 'H.264, a pyramid of B pictures', coding: [...X264, '-bf', '3'], leaves: true },
  { name: 'H.264, B pictures side by side', coding: [...X264, '-bf', '3', '-x264-params', 'b-pyramid=none'], leaves: true },
  { name: 'H.264, four slices, open groups', coding: [...X264, '-bf', '5', '-x264-params', 'slices=4:open-gop=1'], leaves: true },
  { name: 'H.264, fields', coding: [...X264, '-bf', '2', '-flags', '+ildct+ilme', '-x264-params', 'tff=1'], leaves: true },
  { name: 'H.264, P pictures alone', coding: [...X264, '-bf', '0'], leaves: false },
  { name: 'H.264, key frames alone', coding: [...X264, '-g', '1'], leaves: false },
  { name: 'HEVC, B pictures', coding: [...X265, 'log-level=none:keyint=40:bframes=4'], leaves: true },
  { name: 'HEVC, P pictures alone', coding: [...X265, 'log-level=none:keyint=40:bframes=0'], leaves: false },
]

/// Seconds and checksum of each frame that FFmpeg decodes.
async function decoded(file: string, asked: readonly string[]): Promise<Map<string, string>> {
  const sums = join(folder, 'sums')
  await runFfmpeg(await findFfmpeg(), [
    ...['-v', 'error', ...asked, '-i', fileUrl(file), '-fps_mode', 'passthrough', '-copyts', '-enc_time_base', '1/1000'],
    ...['-f', 'framecrc', '-y', fileUrl(sums)],
  ])
  const lines = (await readFile(sums, 'utf8')).split('\n').filter((line) => line !== '' && !line.startsWith('#'))
  return new Map(lines.map((line) => line.split(/,\s*/)).map((fields) => [fields[2]!, fields[5]!]))
}

/// Milliseconds of the packets that the question holds to be needed by another.
async function referredTo(file: string): Promise<string[]> {
  const input = new Input({ source: new BufferSource(await readFile(file)), formats: ALL_FORMATS })
  const track = (await input.getPrimaryVideoTrack())!
  const isNonReference = nonReferenceIn((await track.getDecoderConfig())!)
  const kept: number[] = []
  for await (const packet of new EncodedPacketSink(track).packets())
    if (!isNonReference(packet.data)) kept.push(Math.round(packet.timestamp * 1000))
  return kept.sort((a, b) => a - b).map(String)
}

describe.each(FILMS)('nonReferenceIn, $name', ({ coding, leaves }) => {
  it('should leave out the very packets that FFmpeg leaves out, and what is left decodes to the same pictures', async () => {
    const file = join(folder, 'film.mp4')
    await runFfmpeg(await findFfmpeg(), [
      ...['-v', 'error', '-f', 'lavfi', '-i', 'testsrc2=size=320x240:rate=50,noise=alls=20:allf=t', '-frames:v', '100'],
      ...['-pix_fmt', 'yuv420p', ...coding, '-y', fileUrl(file)],
    ])
    const [all, needed] = [await decoded(file, []), await decoded(file, ['-skip_frame', 'noref'])]
    expect(all.size).toBe(100)
    expect(needed.size < 100).toBe(leaves)
    for (const [at, sum] of needed) expect(sum).toBe(all.get(at))
    expect(await referredTo(file)).toEqual([...needed.keys()])
  })
})

describe('nonReferenceIn', () => {
  it('should leave nothing out where packets cannot be read: no record, another coding', () => {
    const packet = Uint8Array.of(0, 0, 0, 2, 0x01, 0)
    expect(nonReferenceIn({ codec: 'avc1.640028' })(packet)).toBe(false)
    expect(nonReferenceIn({ codec: 'vp09.00.10.08', description: new Uint8Array(30) })(packet)).toBe(false)
    expect(nonReferenceIn({ codec: 'avc1.640028', description: Uint8Array.of(1, 100, 0, 40, 0xff) })(packet)).toBe(true)
  })

  it('should leave out no packet without a slice, and no HEVC picture of a lower sub-layer', () => {
    const avc = nonReferenceIn({ codec: 'avc1.640028', description: Uint8Array.of(1, 100, 0, 40, 0xff) })
    expect(avc(Uint8Array.of(0, 0, 0, 2, 0x06, 0))).toBe(false)
    const layers = (count: number): Uint8Array => Uint8Array.from({ length: 23 }, (_, i) => (i === 21 ? (count << 3) | 3 : 0))
    const [first, second] = [Uint8Array.of(0, 0, 0, 3, 0, 1, 0), Uint8Array.of(0, 0, 0, 3, 0, 2, 0)]
    const two = nonReferenceIn({ codec: 'hvc1.1.6.L93.B0', description: layers(2) })
    expect([two(first), two(second)]).toEqual([false, true])
    expect(nonReferenceIn({ codec: 'hvc1.1.6.L93.B0', description: layers(0) })(first)).toBe(false)
  })
})
