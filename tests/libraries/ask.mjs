// Asking the program, and counting what agrees.
import { execFile } from 'node:child_process'
import { createRequire } from 'node:module'
import { dirname, resolve } from 'node:path'
import { fileURLToPath } from 'node:url'
import { promisify } from 'node:util'

const root = resolve(dirname(fileURLToPath(import.meta.url)), '../..')
export const program = resolve(process.argv[2] ?? `${root}/build/native/steepbook`)
export const library = createRequire(`${root}/build/npm/package.json`)

const run = promisify(execFile)
let times = 0
export const asked = () => times

/// The results of a calculation by name, or the sentence why there are none.
export async function work(name, inputs) {
  times += 1
  const typed = inputs.flatMap(([input, text]) => [`--${input}`, text])
  try {
    const { stdout } = await run(program, ['work', name, ...typed, '--json'])
    return Object.fromEntries(JSON.parse(stdout).results.map(({ name, value }) => [name, value]))
  } catch (error) {
    if (error.code !== 2) throw error  // 2: the inputs lie outside; anything else is a fault.
    return { refused: error.stderr.trim() }
  }
}

/// Several at a time, in order.
export async function each(list, of, atOnce = 3) {
  const left = list.entries()
  await Promise.all(Array.from({ length: atOnce }, async () => { for (const [, one] of left) await of(one) }))
}

export const checks = { passed: 0, failed: 0 }
const farthest = new Map()
export const close = { text: (topic) => farthest.get(topic) ?? '–' }

/// `ours` and `theirs` within `limit`.
export function agree(topic, what, ours, theirs, limit, unit) {
  const apart = Math.abs(ours - theirs)
  if (Number.isFinite(apart) && apart <= limit) checks.passed += 1
  else {
    checks.failed += 1
    console.log(`FAILED ${topic}: ${what}: ours ${ours}, theirs ${theirs} ${unit}, may differ by ${limit}`)
  }
  if (!(apart <= (farthest.get(`${topic} value`) ?? -1))) {
    farthest.set(`${topic} value`, apart)
    farthest.set(topic, `${apart.toPrecision(3)} ${unit} (${what})`)
  }
}
export function holds(topic, what, yes) {
  if (yes) checks.passed += 1
  else {
    checks.failed += 1
    console.log(`FAILED ${topic}: ${what}`)
  }
}
export function stop(sentence) {
  console.error(sentence)
  process.exit(2)
}
