/// Flashes after W3C's definition "general flash and red flash thresholds" (WCAG 2.x, success criterion 2.3.1).
/// A transition is the change between neighbouring peaks and valleys of a point's light over time; two
/// opposing ones are a flash. A general flash changes relative luminance by 0.10 or more, the darker state below
/// 0.80. A red flash goes to or from a state whose R/(R+G+B) is 0.8 or more, more than 0.2 away in the CIE 1976
/// chromaticity diagram (the working definition of WCAG 2.2, after ISO 9241-391). Too much: more than three flashes
/// within any one second on more than a quarter of any 341 × 256 pixels of a screen of 1024 × 768.

/// The share of the window that may flash.
export const FLASH_AREA = 0.25
/// Flashes allowed within any one second.
const FLASHES_ALLOWED = 3
/// Opposing transitions that make one flash more than allowed.
export const TRANSITIONS = 2 * (FLASHES_ALLOWED + 1)
/// Pixels of the screen, and of the window in it.
export const SCREEN = { width: 1024, height: 768 }
export const WINDOW = { width: 341, height: 256 }
/// Least change of relative luminance, and the luminance that the darker state stays below.
export const RISE = 0.1
export const BRIGHT = 0.8
/// Least R/(R+G+B) of a saturated red, and how far its colour is from that of the other state.
export const RED = 0.8
export const RED_APART = 0.2
