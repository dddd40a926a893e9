import { useEffect, useState } from 'react'
import { faceAddress } from '../../app/contract/addresses'
import { readTypeface, type Typeface } from '../../app/marks/typeface'

let asked: Promise<Typeface> | null = null

function load(): Promise<Typeface> {
  asked ??= Promise.all(
    (['atkinson-regular', 'atkinson-bold'] as const).map(async (face) => (await fetch(faceAddress(face))).arrayBuffer()),
  ).then(([regular, bold]) => readTypeface(regular!, bold!))
  asked.catch(() => (asked = null))
  return asked
}

/// The face that films are lettered in; null until it is there.
export function useFilmTypeface(): Typeface | null {
  const [typeface, setTypeface] = useState<Typeface | null>(null)
  useEffect(() => {
    let wanted = true
    load()
      .then((face) => wanted && setTypeface(face))
      .catch(() => undefined)
    return () => {
      wanted = false
    }
  }, [])
  return typeface
}
