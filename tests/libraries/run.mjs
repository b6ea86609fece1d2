// Our calculations beside libraries that nobody here wrote:   node tests/libraries/run.mjs [PROGRAM]
//
// Each suite asks the program as a person would (`steepbook work … --json`) and the library for the same thing;
// what they may differ by is said beside it, with the reason. Prints a line for each comparison and
// 'N passed, M failed' at the end.
import { areas } from './areas.mjs'
import { asked, checks, close, program, stop } from './ask.mjs'
import { sun } from './sun.mjs'
import { wetBulb } from './wet_bulb.mjs'

for (const [name, suite] of [['wet bulb', wetBulb], ['sun', sun], ['areas', areas]]) {
  const before = checks.passed + checks.failed
  await suite()
  const done = checks.passed + checks.failed - before
  if (done === 0) stop(`${name}: nothing was compared`)
  console.log(`${name}: ${done} comparisons, farthest apart ${close.text(name)}`)
}
console.log(`${program}: asked ${asked()} times`)
console.log(`${checks.passed} passed, ${checks.failed} failed`)
process.exitCode = checks.failed ? 1 : 0
