/// The little of opentype.js that the core uses. Its published types bring the DOM library with
/// them, which the core does not have.
declare module 'opentype.js' {
  export interface PathCommand {
    readonly type: 'M' | 'L' | 'C' | 'Q' | 'Z'
    readonly x: number
    readonly y: number
    readonly x1: number
    readonly y1: number
    readonly x2: number
    readonly y2: number
  }
  export interface Glyph {
    readonly index: number
    readonly advanceWidth: number
    getPath(x: number, y: number, fontSize: number): { readonly commands: readonly PathCommand[] }
  }
  export interface Font {
    readonly unitsPerEm: number
    readonly tables: {
      readonly os2: { readonly sCapHeight: number; readonly usWinAscent: number; readonly usWinDescent: number }
    }
    charToGlyphIndex(character: string): number
    stringToGlyphs(text: string): readonly Glyph[]
    getKerningValue(left: Glyph, right: Glyph): number
    readonly position: {
      readonly defaultKerningTables?: unknown
      getKerningValue(tables: unknown, left: number, right: number): number
    }
  }
  export function parse(bytes: ArrayBuffer): Font
}
