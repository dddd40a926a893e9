/// Which triangle is nearest at each picture point: depth and triangle index, no colour.
export class Raster {
  readonly depth: Float32Array
  readonly owner: Int32Array
  /// What has been touched since `clear`: pixel bounds, `to` excluded.
  left = Infinity
  top = Infinity
  right = 0
  bottom = 0
  constructor(
    readonly width: number,
    readonly height: number,
  ) {
    this.depth = new Float32Array(width * height)
    this.owner = new Int32Array(width * height)
    this.depth.fill(Infinity)
  }

  clear(): void {
    if (this.right > this.left)
      for (let y = this.top; y < this.bottom; y++) this.depth.fill(Infinity, y * this.width + this.left, y * this.width + this.right)
    this.left = this.top = Infinity
    this.right = this.bottom = 0
  }

  /// Draws triangles whose corners are at `at` (x, y, depth per point; smaller is nearer). Faces
  /// turned away (clockwise on a picture with y down) are left out when `cull` is set.
  draw(at: Float32Array, triangles: Uint32Array, cull: boolean): void {
    const { width, height, depth, owner } = this
    for (let t = 0; t < triangles.length; t += 3) {
      const a = triangles[t]! * 3
      const b = triangles[t + 1]! * 3
      const c = triangles[t + 2]! * 3
      const ax = at[a]!,
        ay = at[a + 1]!
      const bx = at[b]!,
        by = at[b + 1]!
      const cx = at[c]!,
        cy = at[c + 1]!
      const area = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
      if (cull ? area >= -1e-9 : Math.abs(area) < 1e-9) continue
      let x0 = ax < bx ? (ax < cx ? ax : cx) : bx < cx ? bx : cx
      let x1 = ax > bx ? (ax > cx ? ax : cx) : bx > cx ? bx : cx
      let y0 = ay < by ? (ay < cy ? ay : cy) : by < cy ? by : cy
      let y1 = ay > by ? (ay > cy ? ay : cy) : by > cy ? by : cy
      x0 = Math.ceil(x0 - 0.5)
      y0 = Math.ceil(y0 - 0.5)
      x1 = Math.floor(x1 - 0.5)
      y1 = Math.floor(y1 - 0.5)
      if (x0 < 0) x0 = 0
      if (y0 < 0) y0 = 0
      if (x1 >= width) x1 = width - 1
      if (y1 >= height) y1 = height - 1
      if (x1 < x0 || y1 < y0) continue
      const k = 1 / area
      const wbx = (cy - ay) * k,
        wby = -(cx - ax) * k
      const wcx = -(by - ay) * k,
        wcy = (bx - ax) * k
      const za = at[a + 2]!
      const zb = at[b + 2]! - za
      const zc = at[c + 2]! - za
      for (let y = y0; y <= y1; y++) {
        const py = y + 0.5 - ay
        const row = y * width
        let wb = (x0 + 0.5 - ax) * wbx + py * wby
        let wc = (x0 + 0.5 - ax) * wcx + py * wcy
        for (let x = x0; x <= x1; x++, wb += wbx, wc += wcx) {
          if (wb < 0 || wc < 0 || wb + wc > 1) continue
          const z = za + wb * zb + wc * zc
          if (z < depth[row + x]!) {
            depth[row + x] = z
            owner[row + x] = t
          }
        }
      }
      if (x0 < this.left) this.left = x0
      if (y0 < this.top) this.top = y0
      if (x1 >= this.right) this.right = x1 + 1
      if (y1 >= this.bottom) this.bottom = y1 + 1
    }
  }
}
