import { useMemo } from 'react'
import { sourceUses } from '../../app/release/source-use'
import { useFilmTypeface } from '../player/film-typeface'
import { programmeOf } from '../state/programme'
import { useShown } from '../state/use-project'

/// How much of each film the film shows, as it would be rendered now. Without an entry: nothing of it.
export interface SecondsUsed {
  readonly used_s: number
  readonly onScreen_s: number
}

/// By footage; null while the film cannot be laid out yet.
export function useSecondsUsed(): ReadonlyMap<string, SecondsUsed> | null {
  const { breakdown, tables, films, readings, takes } = useShown()
  const typeface = useFilmTypeface()
  return useMemo(() => {
    const laid = programmeOf({ breakdown, tables, films, readings, takes }, typeface)
    if (!laid || !breakdown) return null
    return new Map(sourceUses(laid.programme, breakdown, (footage) => tables.get(footage)!).map((use) => [use.footage, use]))
  }, [breakdown, tables, films, readings, takes, typeface])
}
