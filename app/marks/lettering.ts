/// Sizes of what is written on film, from the canvas's height (LOOK: a value 5 % at least, nothing under 4 %),
/// and of everything else from its shorter side. Em sizes in pixels.
export interface Lettering {
  readonly value: number
  readonly small: number
  readonly badge: number
  readonly name: number
  readonly heading: number
  readonly margin: number
  readonly padding: number
  readonly corner: number
  /// One pixel of a canvas whose shorter side is 1080.
  readonly unit: number
  /// y at which the zone that captions own begins: the bottom 18 %.
  readonly captionTop: number
  /// The band that labels prefer: 15–75 % of the height.
  readonly labelTop: number
  readonly labelFoot: number
}

/// The same with all type on plates smaller by `share`.
export const smallerLettering = (lettering: Lettering, share: number): Lettering => ({
  ...lettering,
  value: lettering.value * share,
  small: lettering.small * share,
  padding: lettering.padding * share,
})

export function letteringOf(width: number, height: number): Lettering {
  const unit = Math.min(width, height) / 1080
  return {
    value: 0.054 * height,
    small: 0.0405 * height,
    badge: 0.0405 * height,
    name: 0.054 * height,
    heading: 0.075 * Math.min(height, width * 1.1),
    margin: 0.032 * Math.min(width, height),
    padding: 0.022 * Math.sqrt(height * Math.min(width, height)),
    corner: 6 * unit,
    unit,
    captionTop: 0.82 * height,
    labelTop: 0.15 * height,
    labelFoot: 0.75 * height,
  }
}
