/// Something that a check of the finished film found.
export interface FilmRemark {
  readonly code:
    | 'flash'
    | 'red-flash'
    | 'contrast-low'
    | 'label-small'
    | 'label-short'
    | 'label-over-joint'
    | 'label-over-caption'
    | 'caption-over-label'
    | 'black'
    | 'stands-still'
    | 'frame-not-approved'
    | 'loudness'
    | 'lengths'
  /// `stop`: the film must not go out so. `look`: somebody should look at it.
  readonly weight: 'stop' | 'look'
  /// First frame of the film that it is about; null: the film as a whole.
  readonly frame: number | null
  readonly problem: string
  readonly wayOut: string
}

/// What is said where nothing was found: what was looked at, never that all is well.
export const NO_LIMIT_EXCEEDED = 'No limit exceeded by this check.'
