/// Puts the pieces in which a process writes raw pictures together again: `take` gets every whole picture of `size` bytes, in
/// order. The bytes are those of the next picture after that: whoever keeps one copies it.
export function wholePictures(size: number, take: (picture: Uint8Array) => void): (piece: Uint8Array) => void {
  const picture = new Uint8Array(size)
  let filled = 0
  return (piece) => {
    for (let at = 0; at < piece.length;) {
      const part = piece.subarray(at, at + size - filled)
      picture.set(part, filled)
      filled += part.length
      at += part.length
      if (filled < size) continue
      filled = 0
      take(picture)
    }
  }
}
