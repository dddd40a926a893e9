/// A number's digits as people read them: with a minus sign (U+2212), never a hyphen. Files that machines read keep the hyphen.
export const withMinus = (digits: string): string => digits.replace('-Infinity', '−∞').replace(/-(?=[\d.])/gu, '−')

/// The same, said aloud.
export const minusSaid = (digits: string): string => withMinus(digits).replaceAll('−', 'minus ')
