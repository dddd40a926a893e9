import type { Shot } from './picture'

/// The clips that a shot shows, in its order; none for a card.
export function clipsOfShot(shot: Shot): string[] {
  if ('run' in shot) return [shot.run]
  if ('hold' in shot) return [shot.hold]
  return 'pair' in shot ? shot.pair.map(({ clip }) => clip) : []
}
