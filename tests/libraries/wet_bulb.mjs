// Stull's wet bulb beside psychrolib (ASHRAE Handbook, Fundamentals 2017, ch. 1) at sea-level pressure, over the
// range that Stull's paper draws. From 10 % humidity on and up to 40 °C within 1.0 °C, as the paper states (−1 to
// +0.65 °C). At the edges it is rougher, and the program says so: 1.25 °C when drier or hotter; 2.4 °C where
// the bulb freezes, for psychrolib's wet bulb is that of ice then. Refused is cold and dry air alone.
import { agree, each, holds, library, work } from './ask.mjs'

export async function wetBulb() {
  const psychro = library('psychrolib')
  psychro.SetUnitSystem(psychro.SI)
  const grid = []
  for (let air = -20; air <= 50; air += 5) for (const humidity of [5, 10, 20, 30, 40, 50, 60, 70, 80, 90, 95, 99]) grid.push([air, humidity])
  let answered = 0
  await each(grid, async ([air, humidity]) => {
    const inputs = [['temperature', `${air} C`], ['humidity', `${humidity} %`]]
    const ours = await work('wet-bulb', inputs)
    const what = `${air} °C, ${humidity} %`
    if (ours.refused) return holds('wet bulb', `${what} refused though inside the range`, air < -2.33 * humidity + 28.33 + 1e-9)
    answered += 1
    const theirs = psychro.GetTWetBulbFromRelHum(air, humidity / 100, 101325)
    const limit = theirs < 0 ? 2.4 : humidity < 10 || air > 40 ? 1.25 : 1.0
    agree('wet bulb', what, ours['wet-bulb'], theirs, limit, '°C')
    const dry = await work('delta-t', inputs)
    // Delta T is the air less its wet bulb, so it is as far off as that.
    agree('wet bulb', `Delta T at ${what}`, dry['delta-t'], air - theirs, limit, '°C')
  })
  holds('wet bulb', `only ${answered} of ${grid.length} answered`, answered > 100)
}
