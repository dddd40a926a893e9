declare module '@citation-js/core' {
  export const plugins: {
    readonly input: { chain(data: string, options: { readonly forceType: string; readonly generateGraph: boolean }): unknown }
  }
}
declare module '@citation-js/plugin-bibtex'
