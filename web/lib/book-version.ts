/** Of the contract and the core that this page was built with; undefined where it runs unbuilt. */
export function ownVersion(): string | undefined {
  return import.meta.env.BOOK_VERSION
}
