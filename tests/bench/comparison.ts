/// A question about speed: ours against something else, both doing the same work. Each run of each
/// contender is a fresh process; rounds take turns, so that a slow minute of the machine hits all alike.
export interface Comparison {
  /// Short, in kebab case; what `npm run bench -- NAME` takes.
  readonly name: string
  /// One sentence: what is done, on what.
  readonly question: string
  /// How many times each contender runs; odd, so that the median is one that was measured.
  readonly rounds: number
  /// Programs that the work leans on, with their versions, for the page.
  programs?(): Promise<string>
  /// Makes what the runs need, in an empty folder; once, in a process of its own, not timed.
  prepare?(folder: string): Promise<void>
  /// The first is what the others are held against.
  readonly contenders: readonly [Contender, ...Contender[]]
}

export interface Contender {
  readonly name: string
  /// At most this many times the first contender's time, or this many milliseconds: what we want to
  /// reach. Shown on the page, and the page says whether it was reached.
  readonly wanted?: { readonly ratio: number } | { readonly milliseconds: number }
  /// What figures beside the time are to be at most, by their names.
  readonly most?: Readonly<Record<string, number>>
  /// By how much figures beside the time may be over the first contender's, by their names.
  readonly over?: Readonly<Record<string, number>>
  /// Runs this often before the timed run, in the same process. Absent: 0.
  readonly warmUps?: number
  /// The work. What it answers is shown beside its time (sizes, frames, a percentile of its own);
  /// `milliseconds`, where it gives it, stands in place of the time measured around it.
  run(folder: string): Promise<Extras | undefined>
}

export type Extras = Readonly<Record<string, number>>
