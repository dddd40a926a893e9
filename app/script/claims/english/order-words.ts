/// What puts one thing before another in time, for reading which way round a sentence has it.

/// Words of an event's name, and of a sentence, that stand for one act. Whoever names the foot and says that it lands means the
/// event in which it is planted; whoever says that it lifts does not.
export const ACTS: readonly (readonly string[])[] = [
  ['plant', 'planting', 'planted', 'land', 'landing', 'landed', 'touch', 'touchdown', 'contact', 'impact', 'hit', 'strike', 'arrive', 'arrival'],
  ['turn', 'turning', 'turned', 'rotate', 'rotation', 'rotating', 'twist', 'twisting'],
  ['lift', 'lifting', 'lifted', 'rise', 'rising', 'raise', 'raising'],
  ['extend', 'extension', 'extending', 'straighten', 'straightening'],
  ['bend', 'bending', 'bent', 'flex', 'flexion', 'flexing'],
  ['step', 'stepping'],
  ['open', 'opening'],
  ['close', 'closing'],
  ['drop', 'dropping', 'dip', 'dipping'],
  ['lean', 'leaning'],
  ['peak', 'peaking'],
]

/// Verbs that say that something happens, and not what.
export const HAPPENING: ReadonlySet<string> = new Set(['be', 'is', 'are', 'was', 'were', 'been', 'being', 'do', 'does', 'did', 'have', 'has', 'had', 'come', 'go', 'lead', 'follow', 'precede', 'happen', 'make'])

/// Verbs by which a sentence says that a thing is as its name has it: "the foot was down" of "foot down".
export const BEING: ReadonlySet<string> = new Set(['is', 'are', 'was', 'were', 'comes', 'came', 'goes', 'went', 'gets', 'got'])

/// What may stand between a word of order and the thing that it speaks of.
export const LEADING_IN: ReadonlySet<string> = new Set(['the', 'a', 'an', 'her', 'his', 'their', 'its', 'this', 'that', 'those', 'these', 'of', 'any', 'line', 'lead', 'rear', 'left', 'right'])

/// What else may stand between two things whose order is named, besides adverbs: by how much, how soon.
export const BETWEEN: ReadonlySet<string> = new Set([
  'before', 'after', 'ahead', 'earlier', 'sooner', 'later', 'than', 'then', 'first', 'followed', 'by', 'leads', 'led', 'and', 'long', 'shortly', 'soon', 'right', 'well', 'just', 'directly', 'some', 'few', 'frame', 'frames', 'moment', 'moments', 'instant',
  'second', 'seconds', 'millisecond', 'milliseconds', 'beat', 'fraction', 'clear', 'comfortably', 'too', 'at', 'full', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'several', 'about', 'already', 'does', 'half',
])

export const SIDES: ReadonlySet<string> = new Set(['lead', 'rear', 'left', 'right', 'front', 'back', 'far', 'near', 'leading', 'trailing'])
/// A thing so called is another one than the one without it.
export const ANOTHER: ReadonlySet<string> = new Set(['first', 'second', 'third', 'fourth', 'next', 'last', 'other', 'previous', 'final', 'opposite', 'new'])

/// Words of a name that say nothing of which thing it is.
export const NAME_FILLING: ReadonlySet<string> = new Set(['the', 'a', 'an', 'of', 'at', 'in', 'on', 'to', 'with', 'her', 'his', 'their', 'line', 'time', 'moment', 'rate', 'fastest'])

/// Words that make of a statement something else than one: taken back, wished for, supposed, of every case.
export const UNSTATED: ReadonlySet<string> = new Set([
  'not', 'never', 'no', 'nor', 'neither', 'none', 'nothing', 'nobody', 'cannot', 'without', 'hardly', 'barely', 'scarcely', 'almost', 'nearly', 'if', 'whether', 'unless', 'until', 'till', 'once', 'as', 'like', 'whichever', 'whatever', 'either', 'or',
  'together', 'same', 'simultaneously', 'let', 'try', 'want', 'need', 'ought', 'supposed', 'meant', 'teach', 'should', 'would', 'could', 'might', 'may', 'must', 'can', 'will', 'shall', 'how', 'why', 'what', 'which',
])
/// The same anywhere in the sentence.
export const SUPPOSED: ReadonlySet<string> = new Set([
  'think', 'thought', 'believe', 'belief', 'expect', 'feel', 'seem', 'appear', 'look', 'say', 'said', 'claim', 'guess', 'suppose', 'suspect', 'imagine', 'wonder', 'assume', 'textbook', 'theory', 'manual', 'rule', 'book', 'coach', 'usually', 'normally', 'often',
  'sometimes', 'typically', 'generally', 'maybe', 'perhaps', 'probably', 'possibly', 'opposite', 'reverse', 'contrary', 'instead', 'rather', 'wrong', 'mistake', 'mistaken', 'actually', 'fact', 'otherwise', 'myth', 'illusion', 'impression', 'wrongly', 'supposedly',
  'apparently', 'ideally', 'ideal', 'glance', 'other', 'another', 'elsewhere', 'previous', 'previously', 'film', 'video', 'false', 'untrue', 'argue', 'call', 'hear', 'promise', 'plan', 'intend', 'hope',
])
