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
  'capture-unknown': {
    weight: 'refuse',
    wording: 'how fast this picture was really shot is not known',
    advice: 'State the capture factor of the clip, or link it to a live shot by two shared events. Frame counts stay allowed.',
  },
  'film-not-read': {
    weight: 'refuse',
    wording: "the film's frame times have not been read yet",
    advice: 'Put the film where the document says and let it be scanned.',
  },
  'across-clips': { weight: 'refuse', wording: 'the two instants lie in different shots', advice: 'Mark both events within one clip.' },
  'clip-missing': { weight: 'refuse', wording: 'the clip it asks about is not there', advice: 'Choose a clip of this project.' },
  'event-missing': { weight: 'refuse', wording: 'an event it asks about has not been marked', advice: 'Mark the event on the clip.' },
  'event-reversed': {
    weight: 'refuse',
    wording: "an event's first possible frame comes after its last",
    advice: "Swap the event's earliest and latest frame.",
  },
  'outside-clip': {
    weight: 'refuse',
    wording: 'the frame lies outside the clip, beyond a cut',
    advice: 'Choose a frame within the clip, or make the clip longer if there is no cut.',
  },
  'outside-film': { weight: 'refuse', wording: 'the film has no such frame', advice: 'Choose a frame that the film has.' },
  'landmark-missing': {
    weight: 'refuse',
    wording: 'a body point that it needs has not been placed',
    advice: 'Place the point on this frame.',
  },
  'no-sample-on-frame': {
    weight: 'refuse',
    wording: 'a body point was not placed on this very frame',
    advice: 'Place the point on this frame; positions between frames are never made up.',
  },
  'lead-side-unknown': {
    weight: 'refuse',
    wording: 'which side leads is not stated for this frame',
    advice: 'State the lead side on the view card, or name the point by left or right.',
  },
  'off-frame': {
    weight: 'refuse',
    wording: 'a body point lies outside the picture',
    advice: 'Choose a frame on which the whole limb is in the picture.',
  },
  'points-coincide': {
    weight: 'refuse',
    wording: 'two of its points lie on each other, so there is no line',
    advice: 'Check the placing of the points, or choose another frame.',
  },
  'suggested-point': {
    weight: 'refuse',
    wording: 'a body point was suggested and not yet looked at',
    advice: 'Look at it on its frame, and accept or correct it.',
  },
  'figure-too-small': { weight: 'refuse', wording: 'the figure is less than 150 pixels tall', advice: 'Use a closer or sharper picture.' },
  'plane-over-35': {
    weight: 'refuse',
    wording: "the limb's plane is turned more than 35° from the picture",
    advice: 'Ask for the apparent angle, or use a camera that sees the limb from the side.',
  },
  'too-uncertain': {
    weight: 'refuse',
    wording: 'the line is too short on the picture to say anything useful',
    advice: 'Choose a frame on which the limb is seen more from the side.',
  },
  'capture-ramped': {
    weight: 'refuse',
    wording: "the replay's speed changes on the way",
    advice: 'Link a shorter part of the replay by events that lie within it.',
  },
  'capture-link-broken': {
    weight: 'refuse',
    wording: "the live shot that should tell the replay's speed does not do so",
    advice: 'Link to a clip of known capture factor by two events that both shots show.',
  },
  'rate-too-low': {
    weight: 'refuse',
    wording: 'the film was not shot fast enough for a speed',
    advice: 'Use a film of at least 100 true frames a second, or say how far the point moved.',
  },
  'too-few-samples': {
    weight: 'refuse',
    wording: 'fewer than five frames in a row are placed, so there is no rate',
    advice: 'Track the points on the frames around this one.',
  },
  'peak-at-end': {
    weight: 'refuse',
    wording: 'the fastest moment lies at the end of what was tracked',
    advice: 'Track the points further before and after.',
  },
  'unit-missing': {
    weight: 'refuse',
    wording: 'nothing tells how long a length on the picture is',
    advice: 'Name a length of the body, or a scale at the same depth.',
  },
  'widths-missing': {
    weight: 'refuse',
    wording: 'the widths of hips and shoulders were not taken square to the camera',
    advice: 'Choose a frame of this clip on which hips and shoulders face the camera.',
  },
  'camera-not-high': {
    weight: 'refuse',
    wording: 'the camera does not look down steeply enough to see headings',
    advice: 'Use a camera at least 45° above the body, or ask from the side.',
  },
  'elevation-missing': {
    weight: 'refuse',
    wording: 'how steeply the camera looks down is not stated',
    advice: 'State the elevation on the view card.',
  },
  'not-planted': {
    weight: 'refuse',
    wording: 'it is not stated that the foot stands flat on the floor',
    advice: 'State it if it does; a raised heel is read far off.',
  },
  'floor-missing': {
    weight: 'refuse',
    wording: 'fewer than four floor marks are placed on this frame, or they lie on one line',
    advice: 'Place four marks of known place on the floor.',
  },
  'floor-crossed': {
    weight: 'refuse',
    wording: 'no camera can see the floor marks in the order in which they are placed',
    advice: 'Look which mark is which: two of them may have changed places, on the picture or in what is said of them.',
  },
  'floor-camera-unknown': {
    weight: 'refuse',
    wording: 'the floor marks do not tell how the camera looks at them',
    advice:
      'Seen straight from above, along the floor or from far away they hardly change with it: add marks further apart, nearer and further off, or state the view by hand.',
  },
  'picture-cropped': {
    weight: 'refuse',
    wording: 'no camera whose picture is whole shows the floor marks so',
    advice:
      'A picture that was cropped to one side has its middle elsewhere, or a mark lies elsewhere: look at the marks, or state the view by hand.',
  },
  'floor-too-flat': {
    weight: 'refuse',
    wording: 'the floor is seen at so flat an angle that the error swallows the distance',
    advice: 'Use a higher camera or floor marks nearer the feet.',
  },
  'lines-missing': {
    weight: 'refuse',
    wording: 'fewer than two lines each way are drawn on this frame',
    advice: 'Draw two lines or more along one side of the ring, and two or more square to them.',
  },
  'lines-apart': {
    weight: 'refuse',
    wording: 'lines that should be parallel do not run together in one point',
    advice: 'One of them lies elsewhere or runs another way: draw it anew, or take it away.',
  },
  'lines-not-square': {
    weight: 'refuse',
    wording: 'no camera whose picture is whole shows lines at right angles so',
    advice:
      'A line may stand among those of the other direction, or not be level; a picture that was cropped to one side has its middle elsewhere. Look at the lines, or state the view by hand.',
  },
  'lines-camera-unknown': {
    weight: 'refuse',
    wording: 'the lines do not tell how the camera looks at them',
    advice:
      'Lines that lie close together, or run side by side on the picture, tell little, and from straight above there is no yaw: add lines further apart and upright ones, take a frame that looks at a corner, or state the view by hand.',
  },
  'no-cases': {
    weight: 'refuse',
    wording: 'no case could be seen well enough to count',
    advice: 'Add cases, or name those that could be seen.',
  },
  'measure-missing': { weight: 'refuse', wording: 'a measure that it builds on is not there', advice: 'Choose measures of this project.' },
  'measure-refused': { weight: 'refuse', wording: 'one of its values could not be measured', advice: 'See why that value was refused.' },
  'kinds-differ': {
    weight: 'refuse',
    wording: 'the two values are not of one kind',
    advice: 'Compare an apparent angle only with an apparent one, a length only in one unit.',
  },
  'views-differ': {
    weight: 'refuse',
    wording: 'the two cameras look from directions more than 25° apart',
    advice: 'Compare postures in words, without a number.',
  },
  'view-missing': {
    weight: 'refuse',
    wording: 'from where the cameras look is not stated for both',
    advice: 'State the yaw on both view cards.',
  },
  'unit-too-short': {
    weight: 'refuse',
    wording: 'the length taken as unit is too short on the picture to measure by',
    advice: 'Choose a frame on which the unit is seen at its full length.',
  },
  'not-computable': {
    weight: 'refuse',
    wording: 'the numbers given do not make a value',
    advice: 'Check the points and the numbers of this measure.',
  },
  // Range only.
  'uncertainty-over-20': {
    weight: 'range',
    wording: 'the error is more than 20°, so only a range is given',
    advice: 'Place the points three times, or use a larger or sharper picture.',
  },
  'side-camera': {
    weight: 'range',
    wording: 'one low camera only tells roughly how far hips and shoulders are turned',
    advice: 'Use a high camera, or say "small", "moderate" or "large".',
  },
  'side-not-resolved': {
    weight: 'range',
    wording: 'which side is nearer the camera is not stated, so two answers are possible',
    advice: 'State which hip and which shoulder is nearer the camera.',
  },
  'order-not-resolved': {
    weight: 'range',
    wording: 'the two brackets overlap, so the order is not resolved',
    advice: "Narrow the events' brackets if the picture allows it.",
  },
  // Given, with a warning.
  'plane-20-to-35': {
    weight: 'warn',
    wording: "the limb's plane is turned 20° to 35° from the picture",
    advice: 'Prefer a view more from the side.',
  },
  'view-oblique': {
    weight: 'warn',
    wording: 'the camera looks at the body more than 20° from side-on',
    advice: 'Say "apparent", and do not compare it with another view.',
  },
  'view-oblique-lean': {
    weight: 'warn',
    wording: 'the camera looks at the body more than 15° from square, so forward and side lean mix',
    advice: 'Say "apparent lean in the picture" only.',
  },
  'elevation-over-25': {
    weight: 'warn',
    wording: 'the camera looks down by more than 25°',
    advice: 'Prefer a lower camera for angles seen from the side.',
  },
  'roll-unstated': {
    weight: 'warn',
    wording: 'how upright the camera stood is not stated',
    advice: 'State the roll of the clip from something that is known to be upright.',
  },
  'figure-small': { weight: 'warn', wording: 'the figure is less than 250 pixels tall', advice: 'Use a closer or sharper picture.' },
  occluded: { weight: 'warn', wording: 'a body point was hidden and its place inferred', advice: 'Choose a frame on which it is seen.' },
  'blur-long': { weight: 'warn', wording: 'motion blur is long against the limb', advice: 'Choose a frame with less blur.' },
  'single-click': {
    weight: 'warn',
    wording: 'a body point was placed only once',
    advice: 'Place it three times without seeing the earlier ones, or state its σ.',
  },
  'lens-edge': {
    weight: 'warn',
    wording: 'a body point lies near the edge of the picture, where lenses bend lines',
    advice: 'Prefer a frame with the body nearer the middle.',
  },
  'variable-rate': {
    weight: 'warn',
    wording: "the film's frames are not evenly spaced in time",
    advice: 'Times are exact all the same; do not turn frame counts into times by a nominal rate.',
  },
  'bracket-wide': {
    weight: 'warn',
    wording: 'an event is bracketed by more than one frame',
    advice: 'Narrow the bracket if the picture allows it.',
  },
  'ramp-untested': {
    weight: 'warn',
    wording: "only two shared events tell the replay's speed, so a change of speed would go unseen",
    advice: 'Mark a third event that both shots show.',
  },
  'markings-apart': {
    weight: 'warn',
    wording: 'an event was marked elsewhere when it was marked again blind',
    advice: 'Take both markings into the bracket, or write down more exactly what the event is.',
  },
  'event-elsewhere': {
    weight: 'warn',
    wording: 'its frame lies outside the bracket of the event that it stands for',
    advice: "Choose a frame within the event's bracket.",
  },
  'event-motion-unknown': {
    weight: 'warn',
    wording: "how fast it changes around its event is not known, so the event's own error is left out",
    advice: 'Place the points on the frames beside it too.',
  },
  'floor-marks-apart': {
    weight: 'warn',
    wording: 'the floor marks do not fit one flat floor; by how much is in the error',
    advice: 'See on the View sheet how far each is off: place it anew, or correct where it is said to lie.',
  },
  'camera-not-followed': {
    weight: 'warn',
    wording: "the camera's own motion was not taken out",
    advice: 'State that it stood still, or place points of the background.',
  },
  'view-unstated': { weight: 'warn', wording: 'from where the camera looks is not stated', advice: 'Fill in the view card.' },
  'segments-missing': {
    weight: 'warn',
    wording: 'some of the body was not placed',
    advice: 'Place the missing points, or say which part this is.',
  },
  'stand-in': {
    weight: 'warn',
    wording: 'the middle of the hips stands in for the balance point',
    advice: 'Place the whole body where it can be seen.',
  },
  'rate-coarse': { weight: 'warn', wording: 'so few frames a second flatten quick turns', advice: 'Say "at least", or use a faster film.' },
  'high-speed': {
    weight: 'warn',
    wording: 'this is faster than a fist is known to move',
    advice: 'Check the capture factor and the scale.',
  },
  'separation-large': {
    weight: 'warn',
    wording: 'this is more than a trunk is known to turn',
    advice: 'Check left and right, and the near sides.',
  },
  'scale-changes': {
    weight: 'warn',
    wording: 'it comes nearer or goes away on the way, so one scale does not hold',
    advice: 'Take the scale on a frame near this one.',
  },
  'elevation-differs': {
    weight: 'warn',
    wording: 'one camera looks down 15° more than the other',
    advice: 'Say so beside the comparison.',
  },
  'views-10-to-25': {
    weight: 'warn',
    wording: 'the cameras look from directions 10° to 25° apart; what that can do is in the error',
    advice: 'Prefer views that match.',
  },
  'margin-changed': {
    weight: 'warn',
    wording: 'how near counts as similar was set or changed after the second value was known',
    advice: 'Write the margin down before the second clip is measured.',
  },
  'margin-too-small': {
    weight: 'warn',
    wording: 'so small a margin cannot be shown at this precision',
    advice: 'Choose a wider margin, or measure more precisely.',
  },
  'one-bout': { weight: 'warn', wording: 'both clips show one bout, so this is one case and not two', advice: 'Count it once.' },
  'cases-unusable': { weight: 'warn', wording: 'some cases could not be seen well enough', advice: 'Always say how many.' },
  'few-cases': { weight: 'warn', wording: 'so few cases say little about the rest', advice: 'Say "in the cases I checked".' },
  'by-eye': { weight: 'warn', wording: 'judged by eye, not measured', advice: 'Say "about" and "by eye".' },
  'capture-uncertain': {
    weight: 'warn',
    wording: 'the capture factor is known to no better than 20 %',
    advice: 'Link it by events that lie further apart.',
  },
  // Said beside the value.
  differs: { weight: 'note', wording: 'the difference is larger than its error', advice: 'It may be said that they differ.' },
  similar: { weight: 'note', wording: 'they are similar within the margin written down', advice: 'Name the margin when you say so.' },
  'cannot-tell': {
    weight: 'note',
    wording: 'at this precision they cannot be told apart',
    advice: 'Do not say that they differ, nor that they are the same.',
  },
  'figure-height-unknown': {
    weight: 'note',
    wording: 'how tall the figure is could not be judged',
    advice: 'Place hip, knee and ankle of one leg somewhere in the clip.',
  },
} as const satisfies Record<string, Reason>

export type ReasonCode = keyof typeof table

export const reasons: Readonly<Record<ReasonCode, Reason>> = table

const ORDER: Readonly<Record<Weight, number>> = { refuse: 0, range: 1, warn: 2, note: 3 }

/// Each code once, the weightiest first; codes of one weight keep their order.
export function weightiestFirst(codes: readonly ReasonCode[]): ReasonCode[] {
  const once = codes.filter((code, i) => codes.indexOf(code) === i)
  return once.length < 2 ? once : once.sort((a, b) => ORDER[reasons[a].weight] - ORDER[reasons[b].weight])
}
