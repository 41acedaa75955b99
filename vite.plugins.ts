/** What the build of the screens does beside Vite's own: icons drawn from the mark, and what only the server needs left out. */
import { readFileSync } from 'node:fs'
import path from 'node:path'
import sharp from 'sharp'
import type { Plugin } from 'vite'
import { bookVersion, VERSION_FILE } from './server/plugins/book-version.ts'

const PAPER = '#f3f5f2'

/** The mark as the pictures that a home screen wants. The round one leaves the rim that may be cut away. */
export function markIcons(root: string): Plugin {
  const draw = (side: number, rim: number) => {
    const inner = Math.round(side * (1 - 2 * rim))
    return sharp(readFileSync(path.join(root, 'web/mark.svg')), { density: 1200 })
      .resize(inner, inner)
      .extend({
        top: Math.floor((side - inner) / 2),
        bottom: Math.ceil((side - inner) / 2),
        left: Math.floor((side - inner) / 2),
        right: Math.ceil((side - inner) / 2),
        background: PAPER,
      })
      .png()
      .toBuffer()
  }
  return {
    name: 'throwbook-mark-icons',
    apply: 'build',
    async generateBundle() {
      for (const [name, side, rim] of [
        ['mark-192', 192, 0],
        ['mark-512', 512, 0],
        ['mark-round', 512, 0.15],
      ] as const)
        this.emitFile({ type: 'asset', fileName: `icons/${name}.png`, source: await draw(side, rim) })
    },
  }
}

/** Tells the page which contract and core it was built with, and leaves the same word for the server. */
export function ofThisVersion(root: string): Plugin {
  const version = bookVersion(root)
  return {
    name: 'throwbook-of-this-version',
    apply: 'build',
    config: () => ({ define: { 'import.meta.env.BOOK_VERSION': JSON.stringify(version) } }),
    generateBundle() {
      this.emitFile({ type: 'asset', fileName: VERSION_FILE, source: version })
    },
  }
}

/** Leaves out of the screens what only the server's documents need: the descriptions of the wire's fields. Shapes and limits stay. */
export function withoutDocuments(): Plugin {
  return {
    name: 'throwbook-without-documents',
    apply: 'build',
    transform: {
      // After TypeScript is taken out, so that the text can be read as plain JavaScript.
      order: 'post',
      handler(code, id) {
        if (!/\/server\/contract\/[^/]+\.ts$/.test(id) || !code.includes('.describe(')) return null
        const cuts = describeCalls(this.parse(code))
        return { code: cut(code, cuts), map: null }
      },
    },
  }
}

interface Node {
  type: string
  start: number
  end: number
  name?: unknown
  callee?: unknown
  object?: unknown
  property?: unknown
}

function isNode(value: unknown): value is Node {
  return typeof value === 'object' && value !== null && 'type' in value && typeof value.type === 'string'
}

/** Where `.describe(…)` stands in the text, from the dot to the bracket. */
function describeCalls(tree: unknown): { from: number; to: number }[] {
  const found: { from: number; to: number }[] = []
  const walk = (value: unknown): void => {
    if (Array.isArray(value)) for (const one of value) walk(one)
    else if (isNode(value)) {
      const { type, callee } = value
      if (type === 'CallExpression' && isNode(callee) && callee.type === 'MemberExpression') {
        const { object, property } = callee
        if (isNode(object) && isNode(property) && property.name === 'describe') found.push({ from: object.end, to: value.end })
      }
      for (const [name, inner] of Object.entries(value)) if (name !== 'parent') walk(inner)
    }
  }
  walk(tree)
  return found
}

/** Calls stand in a chain, so that one cut never lies across another. */
function cut(code: string, cuts: readonly { from: number; to: number }[]): string {
  let left = code
  for (const { from, to } of [...cuts].sort((one, other) => other.from - one.from)) left = left.slice(0, from) + left.slice(to)
  return left
}
