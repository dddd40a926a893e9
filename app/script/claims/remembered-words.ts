import { english } from './english/english'
import type { Word } from './language'
import { remembered } from './remembered-classes'

const analysed = remembered((text): readonly Word[] => english.analyse(text))

/// A text's words as the English analyser gives them, remembered: names of records are asked for at every look.
export const rememberedWords = (text: string): readonly Word[] => analysed(text)
