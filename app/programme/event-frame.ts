import type { Event } from '../project/film'

/// The footage frame that stands for an event on screen: the one in the middle of its bracket,
/// the earlier of two.
export const eventFrame = (event: Event): number => Math.floor((event.earliest + event.latest) / 2)
