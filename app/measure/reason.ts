/// Why a reading is refused, given as a range, or given with a warning: one code, one wording.

/// refuse: no value. range: the value is only given as "roughly from–to". warn: given, with a
/// warning. note: said beside the value, changes nothing.
export type Weight = 'refuse' | 'range' | 'warn' | 'note'

export interface Reason {
  readonly weight: Weight
  /// For a lay reader; completes "not measured: …" or stands alone as a warning.
  readonly wording: string
  /// What the analyst can do about it.
  readonly advice: string
}

const table = {
  // No value.
  'capture-unknown': { weight: 'refuse', wording: 'how fast this picture was really shot is not known', advice: 'State the capture factor of the clip, or link it to a live shot by two shared events. Frame counts stay allowed.' },
  'film-not-read': { weight: 'refuse', wording: 'the film\'s frame times have not been read yet', advice: 'Put the film where the document says and let it be scanned.' },
  'across-clips': { weight: 'refuse', wording: 'the two instants lie in different shots', advice: 'Mark both events within one clip.' },
  'clip-missing': { weight: 'refuse', wording: 'the clip it asks about is not there', advice: 'Choose a clip of this project.' },
  'event-missing': { weight: 'refuse', wording: 'an event it asks about has not been marked', advice: 'Mark the event on the clip.' },
  'event-reversed': { weight: 'refuse', wording: 'an event\'s first possible frame comes after its last', advice: 'Swap the event\'s earliest and latest frame.' },
  'outside-clip': { weight: 'refuse', wording: 'the frame lies outside the clip, beyond a cut', advice: 'Choose a frame within the clip, or make the clip longer if there is no cut.' },
  'outside-film': { weight: 'refuse', wording: 'the film has no such frame', advice: 'Choose a frame that the film has.' },
  'landmark-missing': { weight: 'refuse', wording: 'a body point that it needs has not been placed', advice: 'Place the point on this frame.' },
  'no-sample-on-frame': { weight: 'refuse', wording: 'a body point was not placed on this very frame', advice: 'Place the point on this frame; positions between frames are never made up.' },
  'lead-side-unknown': { weight: 'refuse', wording: 'which side leads is not stated for this frame', advice: 'State the lead side on the view card, or name the point by left or right.' },
  'off-frame': { weight: 'refuse', wording: 'a body point lies outside the picture', advice: 'Choose a frame on which the whole limb is in the picture.' },
  'points-coincide': { weight: 'refuse', wording: 'two of its points lie on each other, so there is no line', advice: 'Check the placing of the points, or choose another frame.' },
  'figure-too-small': { weight: 'refuse', wording: 'the figure is less than 150 pixels tall', advice: 'Use a closer or sharper picture.' },
  'plane-over-35': { weight: 'refuse', wording: 'the limb\'s plane is turned more than 35° from the picture', advice: 'Ask for the apparent angle, or use a camera that sees the limb from the side.' },
  'too-uncertain': { weight: 'refuse', wording: 'the line is too short on the picture to say anything useful', advice: 'Choose a frame on which the limb is seen more from the side.' },
  'unit-too-short': { weight: 'refuse', wording: 'the length taken as unit is too short on the picture to measure by', advice: 'Choose a frame on which the unit is seen at its full length.' },
  'not-computable': { weight: 'refuse', wording: 'the numbers given do not make a value', advice: 'Check the points and the numbers of this measure.' },
  // Range only.
  'uncertainty-over-20': { weight: 'range', wording: 'the error is more than 20°, so only a range is given', advice: 'Place the points three times, or use a larger or sharper picture.' },
  'order-not-resolved': { weight: 'range', wording: 'the two brackets overlap, so the order is not resolved', advice: 'Narrow the events\' brackets if the picture allows it.' },
  // Given, with a warning.
  'plane-20-to-35': { weight: 'warn', wording: 'the limb\'s plane is turned 20° to 35° from the picture', advice: 'Prefer a view more from the side.' },
  'view-oblique': { weight: 'warn', wording: 'the camera looks at the body more than 20° from side-on', advice: 'Say "apparent", and do not compare it with another view.' },
  'view-oblique-lean': { weight: 'warn', wording: 'the camera looks at the body more than 15° from square, so forward and side lean mix', advice: 'Say "apparent lean in the picture" only.' },
  'elevation-over-25': { weight: 'warn', wording: 'the camera looks down by more than 25°', advice: 'Prefer a lower camera for angles seen from the side.' },
  'roll-unstated': { weight: 'warn', wording: 'how upright the camera stood is not stated', advice: 'State the roll of the clip from something that is known to be upright.' },
  'figure-small': { weight: 'warn', wording: 'the figure is less than 250 pixels tall', advice: 'Use a closer or sharper picture.' },
  'occluded': { weight: 'warn', wording: 'a body point was hidden and its place inferred', advice: 'Choose a frame on which it is seen.' },
  'blur-long': { weight: 'warn', wording: 'motion blur is long against the limb', advice: 'Choose a frame with less blur.' },
  'single-click': { weight: 'warn', wording: 'a body point was placed only once', advice: 'Place it three times without seeing the earlier ones, or state its σ.' },
  'suggested-point': { weight: 'warn', wording: 'a body point was suggested by the machine and not yet confirmed', advice: 'Look at it and confirm or correct it.' },
  'lens-edge': { weight: 'warn', wording: 'a body point lies near the edge of the picture, where lenses bend lines', advice: 'Prefer a frame with the body nearer the middle.' },
  'variable-rate': { weight: 'warn', wording: 'the film\'s frames are not evenly spaced in time', advice: 'Times are exact all the same; do not turn frame counts into times by a nominal rate.' },
  'bracket-wide': { weight: 'warn', wording: 'an event is bracketed by more than one frame', advice: 'Narrow the bracket if the picture allows it.' },
  'capture-uncertain': { weight: 'warn', wording: 'the capture factor is known to no better than 20 %', advice: 'Link it by events that lie further apart.' },
  // Said beside the value.
  'figure-height-unknown': { weight: 'note', wording: 'how tall the figure is could not be judged', advice: 'Place hip, knee and ankle of one leg somewhere in the clip.' },
} as const satisfies Record<string, Reason>

export type ReasonCode = keyof typeof table

export const reasons: Readonly<Record<ReasonCode, Reason>> = table

const ORDER: Readonly<Record<Weight, number>> = { refuse: 0, range: 1, warn: 2, note: 3 }

/// Each code once, the weightiest first; codes of one weight keep their order.
export const weightiestFirst = (codes: Iterable<ReasonCode>): ReasonCode[] => [...new Set(codes)].sort((a, b) => ORDER[reasons[a].weight] - ORDER[reasons[b].weight])
