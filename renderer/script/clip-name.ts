import type { Breakdown } from '../../app/project/breakdown'
import type { Clip } from '../../app/project/film'

export const clipAt = (breakdown: Pick<Breakdown, 'clips'>, id: string): Clip | undefined => breakdown.clips.find((clip) => clip.id === id)
export const clipName = (breakdown: Pick<Breakdown, 'clips'>, id: string): string => {
  const clip = clipAt(breakdown, id)
  return clip?.name ?? clip?.bout ?? id
}
