/// What says how a sentence is made up of clauses, and of what one is unsure.

/// Where a clause ends: marks; words that set one clause against another; and "and how far", "and whether".
export const CLAUSE_ENDS: readonly RegExp[] = [
  /[;:?!…]|\.(?=\s)|\s?[–—]\s?|\s-\s|[()]/gu,
  /,?\s(?=(?:but|though|although|whereas|while|yet|however|even if|even though)\s)/giu,
  /,?\s(?=and (?:by |at |in |to )?(?:whether|how|why|what|which|who|whose)\s)/giu,
  /,\s(?=(?:by |at |in |to )?(?:whether|how|why|what|who|whose)\s)/giu,
]
/// Where one ends as well, unless what follows the next comma speaks of both.
export const JOINED = /,\s(?=(?:and|or|nor|so)\s)/giu

/// A clause that begins so asks, and says nothing itself.
export const ASKING =
  /^(?:(?:and|or|but|nor|so|though|while|look|see|ask|asking)\s)?(?:(?:by|at|in|to|of|for|on)\s)?(?:whether|how|why|what|which|who|whose|if)(?!\p{L})/iu

/// Where somebody stands or looks from: part of being unsure, and nothing that one is unsure of.
export const VANTAGE =
  /(?<!\p{L})(?:from|at|on|in|with|by|of|for) (?:this|that|these|those|the|our|my|any|such|so few|so low)(?: \p{L}+)? (?:side|angle|camera|film|frame|frames|rate|precision|resolution|replay|picture|pictures|view|distance|footage|speed|place|evidence|material|point)(?!\p{L})/giu

/// Words that name nothing that could be unsure.
export const EMPTY: ReadonlySet<string> = new Set(
  (
    'a an the this that these those it its they them their he him his she her hers i we us you me my our one ones two both either neither each other another any anyone anybody nobody no none nothing somebody something ' +
    'be is are was were been being am do does did done have has had will would can could cannot may might must shall should ' +
    'and or but nor though although while yet however so if whether which what who whose as than then even because since for from at in on of to by with without out into about between among over under ' +
    'not never only just still simply really also too quite very here there now again again all at once much more less exactly clearly certainly for certain sure honest honestly sadly alas perhaps maybe either way ' +
    'say says said tell tells told know knows known see sees seen seem seems seemed look looks looked appear appears appeared measure measured measurable call close leave leaves left remain remains open clear unclear resolved unresolved telling ' +
    'film films camera cameras picture pictures frame frames footage tape video replay precision resolution ' +
    'come comes came go goes went happen happens happened which apart ' +
    'order sequence succession difference result outcome answer comparison case matter question before after first earlier later sooner ahead leads led follows followed precedes preceded'
  ).split(' '),
)

/// A case among several, and no matter of its own: "in the second it is unclear".
export const CASE =
  /(?<!\p{L})(?:first|second|third|other|latter|former|last) (?:one|clip|bout|time|case|film|take|round|hand)(?!\p{L})|(?<!\p{L})(?:in|on|of|for|with) (?:the|her|his|this|that) (?:first|second|third|fourth|other|latter|former|last)(?: (?:(?:lead|rear|left|right) )?(?:hand|punch|kick|jab|cross|hook|strike|one|clip|bout|case|time|film|take|round))?(?!\p{L})/giu
