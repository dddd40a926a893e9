import type { Reading } from '../../app/measure/reading'

/// The greatest parts of a reading's error in words: "click ±11° · blur ±3°", each its own 95 % half width.
export const errorParts = (reading: Reading, most: number): string =>
  [...reading.parts]
    .sort((a, b) => b.U - a.U)
    .slice(0, most)
    .map(
      ({ name, U }) =>
        `${name} ±${U >= 10 ? Math.round(U) : Number(U.toPrecision(2))}${reading.unit === '°' ? '°' : reading.unit === '' ? '' : ` ${reading.unit}`}`,
    )
    .join(' · ')
