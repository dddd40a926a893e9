import { execFile } from 'node:child_process'
import { readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { beginFollowing, followOn, type Followed } from '../../../app/track/follow-point'
import type { GreyPicture } from '../../../app/track/grey-picture'
import type { Comparison } from '../comparison'

/// Ten points on a 1080p picture that pans by a fraction of a pixel, 60 frames. OpenCV does what it has for the same: there
/// and back again by pyramidal Lucas–Kanade (25 px, 3 levels) on the same 144 px regions, one thread, and the affine fit of
/// the placed look by findTransformECC on 25 px.
const [WIDTH, HEIGHT, FRAMES, REACH] = [1920, 1080, 60, 72]
const points = Array.from({ length: 10 }, (_, i): [number, number] => [250 + 150 * i, 300 + 53 * ((i * 7) % 10)])

function picture(frame: number): Uint8Array {
  const data = new Uint8Array(WIDTH * HEIGHT)
  const [dx, dy] = [1.3 * frame, 0.6 * frame]
  for (let j = 0; j < HEIGHT; j++)
    for (let i = 0; i < WIDTH; i++) {
      const [x, y] = [i - dx, j - dy]
      data[j * WIDTH + i] =
        128 + 45 * Math.sin(0.31 * x + 0.2) * Math.cos(0.27 * y) + 30 * Math.sin(0.13 * x + 0.19 * y) + 25 * Math.cos(0.45 * y - 0.08 * x)
    }
  return data
}

const python = `
import sys, time, json
import numpy as np, cv2
cv2.setNumThreads(1)
W, H, N, R = ${WIDTH}, ${HEIGHT}, ${FRAMES}, ${REACH}
ecc = sys.argv[2] == 'ecc'
film = np.fromfile(sys.argv[1], np.uint8).reshape(N, H, W)
points = [np.array(p, np.float32) - 0.5 for p in json.loads(sys.argv[3])]
looks = [cv2.getRectSubPix(film[0], (25, 25), tuple(map(float, p))) for p in points]
warps = [np.eye(2, 3, dtype=np.float32) for _ in points]
best = dict(winSize=(25, 25), maxLevel=2, criteria=(3, 15, 0.01))
start = time.perf_counter()
for n in range(1, N):
    a, b = film[n - 1], film[n]
    for i, p in enumerate(points):
        x, y = int(p[0]) - R, int(p[1]) - R
        x, y = max(0, min(W - 2 * R, x)), max(0, min(H - 2 * R, y))
        ra, rb = a[y:y + 2 * R, x:x + 2 * R], b[y:y + 2 * R, x:x + 2 * R]
        q = (p - [x, y]).astype(np.float32).reshape(1, 1, 2)
        there, _, _ = cv2.calcOpticalFlowPyrLK(ra, rb, q, None, **best)
        back, _, _ = cv2.calcOpticalFlowPyrLK(rb, ra, there, None, **best)
        if ecc:
            t = there[0, 0]
            w = warps[i].copy()
            w[:, 2] = t - w[:, :2] @ np.float32([12, 12])
            try:
                _, w = cv2.findTransformECC(looks[i], rb, w, cv2.MOTION_AFFINE, (3, 10, 1e-3), None, 1)
                warps[i] = w
            except cv2.error:
                pass
        else:
            patch = cv2.getRectSubPix(rb, (25, 25), tuple(map(float, there[0, 0])))
            cv2.matchTemplate(patch, looks[i], cv2.TM_CCOEFF_NORMED)
        points[i] = there[0, 0] + [x, y]
ms = (time.perf_counter() - start) * 1000
off = max(float(np.hypot(*(p + 0.5 - np.array(s) - [1.3 * (N - 1), 0.6 * (N - 1)]))) for p, s in zip(points, json.loads(sys.argv[3])))
print(json.dumps({'milliseconds': ms, 'off': off}))
`

async function byOpenCv(folder: string, check: string) {
  const { stdout } = await promisify(execFile)('/usr/bin/python3', [
    join(folder, 'follow.py'),
    join(folder, 'film.grey'),
    check,
    JSON.stringify(points),
  ])
  const { milliseconds, off } = JSON.parse(stdout) as { milliseconds: number; off: number }
  return { milliseconds, 'ms a frame': milliseconds / (FRAMES - 1), 'furthest off, px': off }
}

export const followPoints: Comparison = {
  name: 'follow-points',
  question:
    'Ten points followed over 60 frames of 1080p grey levels, decoding apart: ours (there and back again, and the affine fit of the placed look at each step) against Debian’s native OpenCV on the same regions, one thread.',
  rounds: 3,
  programs: async () =>
    (await promisify(execFile)('/usr/bin/python3', ['-c', 'import cv2; print("OpenCV " + cv2.__version__)'])).stdout.trim(),
  prepare: async (folder) => {
    await writeFile(join(folder, 'film.grey'), Buffer.concat(Array.from({ length: FRAMES }, (_, frame) => picture(frame))))
    await writeFile(join(folder, 'follow.py'), python)
  },
  contenders: [
    { name: 'OpenCV: there and back, affine fit', run: (folder) => byOpenCv(folder, 'ecc') },
    { name: 'OpenCV: there and back, correlation only', run: (folder) => byOpenCv(folder, 'correlation') },
    {
      name: 'ours',
      wanted: { ratio: 2 },
      warmUps: 1,
      run: async (folder) => {
        const bytes = await readFile(join(folder, 'film.grey'))
        const greys = Array.from({ length: FRAMES }, (_, n): GreyPicture => ({
          width: WIDTH,
          height: HEIGHT,
          data: new Uint8Array(bytes.buffer, bytes.byteOffset + n * WIDTH * HEIGHT, WIDTH * HEIGHT),
        }))
        const started = performance.now()
        let off = 0
        for (const at of points) {
          let now = beginFollowing(greys[0]!, at) as Followed
          for (let n = 1; n < FRAMES; n++) {
            const next = followOn(now, greys[n]!)
            if (typeof next === 'string') throw new Error(`let go: ${next}`)
            now = next
          }
          off = Math.max(off, Math.hypot(now.at[0] - at[0] - 1.3 * (FRAMES - 1), now.at[1] - at[1] - 0.6 * (FRAMES - 1)))
        }
        const milliseconds = performance.now() - started
        return { milliseconds, 'ms a frame': milliseconds / (FRAMES - 1), 'furthest off, px': off }
      },
    },
  ],
}
