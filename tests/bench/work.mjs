// What calculations cost: each as a whole process, from start to its last letter
//
// Median of nine runs a calculation, on its own example; the limit is 20 ms for any of them. The peer is the
// start of a program that does nothing, so that the machine can be told from us.
import { spawnSync } from 'node:child_process'

const program = 'build/native/steepbook', limit_ms = 20
const time = (file, given) => {
  const all = []
  for (let i = 0; i < 9; i += 1) {
    const begun = process.hrtime.bigint()
    const done = spawnSync(file, given, { encoding: 'utf8' })
    all.push(Number(process.hrtime.bigint() - begun) / 1e6)
    if (done.status !== 0) return { ms: Number.NaN, out: done.stderr }
  }
  return { ms: all.sort((a, b) => a - b)[4] }
}
/// 'steepbook work NAME …' at the end of each calculation's help, as a shell would split it.
const example = (help) => [...help.trim().split('\n').pop().matchAll(/(?:[^\s"]|"[^"]*")+/g)].map(([word]) => word.replaceAll('"', '')).slice(1)
const print = (name, value, against, ratio) => console.log(JSON.stringify({ name, value: Number(value.toPrecision(3)), unit: 'ms', against, ratio: Number(ratio.toPrecision(3)) }))

const list = spawnSync(program, ['work'], { encoding: 'utf8' }).stdout
const names = [...list.matchAll(/^ {2}([a-z0-9-]+) {1,}\S/gm)].map(([, name]) => name)
const empty = time('/bin/true', []).ms
const times = []
for (const name of names) {
  const given = example(spawnSync(program, ['work', name, '--help'], { encoding: 'utf8' }).stdout)
  const { ms, out } = time(program, [...given, '--json'])
  if (Number.isNaN(ms)) console.error(`${name}: ${out}`)
  else times.push({ name, ms })
}
times.sort((a, b) => a.ms - b.ms)
if (times.length === names.length && names.length > 20) {
  const middle = times[times.length >> 1], slowest = times[times.length - 1]
  print(`work, a process, median of ${names.length} calculations`, middle.ms, 'an empty program', middle.ms / empty)
  print(`work, a process, the slowest: ${slowest.name}`, slowest.ms, `the limit of ${limit_ms} ms`, slowest.ms / limit_ms)
} else console.error(`${times.length} of ${names.length} answered`)
