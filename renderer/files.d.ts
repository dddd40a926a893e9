declare module '*.css'
/// A file of its own, by address.
declare module '*?url&no-inline' {
  const address: string
  export default address
}
