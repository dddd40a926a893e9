import type { FilmRemark } from '../safety/film-remark'

/// The checks of one finished film, as `checks.json` holds them. They say what was looked at; they certify nothing.
export interface FilmChecks {
  readonly said: string
  readonly remarks: readonly (FilmRemark & { readonly at_s: number | null })[]
  readonly seconds: number
  readonly frames: number
  /// Largest part of a window that flashed more than three times within a second, and the part that may.
  readonly flashes: { readonly generalShare: number; readonly redShare: number; readonly limit: number } | null
  readonly labels: { readonly looked: number; readonly lowestContrast: number | null } | null
  readonly approved: { readonly frames: number; readonly compared: number; readonly shown: number } | null
  readonly sound: { readonly integrated: number; readonly truePeak: number; readonly target: number | null }
  /// Why platforms would not take the chapters; empty when they would.
  readonly chapters: readonly string[]
}

/// What was found of the frames that somebody chose, and of how many nothing can be said.
export function approvedWords({ frames, compared, shown }: NonNullable<FilmChecks['approved']>): string {
  const rest = frames - compared
  const unseen = rest === 0 ? '' : ` ${rest} could not be compared: laid over another picture, or covered for the most part.`
  return `${shown} of ${frames} chosen frames found in the film.${unseen} `
}
