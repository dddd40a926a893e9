import { useSyncExternalStore } from 'react'
import { onsetsOfPieces } from '../../app/programme/word-times'
import type { Paragraph } from '../../app/project/picture'
import { heardSeconds } from '../../app/script/pauses'
import { estimatedOnsets } from '../../app/script/speaking-time'
import { wordsOf, type Readings } from '../../app/script/spoken-form'
import type { TakePlayer } from './take-player'

interface Props {
  readonly paragraph: Paragraph
  readonly readings: Readings
  /// Length of the take in the film, seconds; null: none.
  readonly take: number | null
  readonly player: TakePlayer
}

/// The paragraph to say; while its take plays, the word reached is marked and what was said is dimmed.
export function SpokenWords({ paragraph, readings, take, player }: Props) {
  const words = wordsOf(paragraph, readings)
  const reached = useSyncExternalStore(player.subscribe, () => {
    const { at, playing } = player.state()
    return playing && take !== null ? reachedAt(paragraph, readings, take, at) : null
  })
  return (
    <p className="say">
      {words.map((word, i) => {
        const classes = [
          ...(word.cues.length > 0 ? ['cue'] : []),
          ...(reached === null ? [] : i < reached ? ['said'] : i === reached ? ['reached'] : []),
        ]
        return (
          <span key={i} className={classes.join(' ') || undefined}>
            {word.spoken}{' '}
          </span>
        )
      })}
    </p>
  )
}

/// The piece that is being said at a time of the take: by the words found in it, else by estimate; −1 before the first.
function reachedAt(paragraph: Paragraph, readings: Readings, take: number, at: number): number {
  const found = onsetsOfPieces(paragraph, readings)
  const { trim } = paragraph.narration ?? {}
  const onsets: Iterable<readonly [number, number]> =
    found ??
    estimatedOnsets(paragraph, readings, heardSeconds(take, trim)).map(
      ({ index, seconds }) => [index, seconds + (trim?.from ?? 0)] as const,
    )
  let reached = -1
  for (const [piece, seconds] of onsets) if (seconds <= at) reached = Math.max(reached, piece)
  return reached
}
