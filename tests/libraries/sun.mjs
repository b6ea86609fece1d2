// Sunrise, solar noon and sunset beside astronomy-engine (VSOP87, checked by its makers against JPL Horizons):
// 20 places × 10 days. Both take the sun's upper edge on a level horizon with 34′ of refraction. The NOAA
// equations claim a minute; ours have been some 5 s off below 60°, so 15 s there. Nearer the poles the sun
// grazes the horizon and a second of arc counts for more: 60 s.
import { agree, each, holds, library, work } from './ask.mjs'

const places = [
  [0, -78.5], [9.9, -84.1], [-1.3, 36.8], [19.4, -99.1], [28.6, 77.2], [-23.5, -46.6], [35.7, 139.7], [-34.6, -58.4], [38.9, -77.0], [40.4, -3.7],
  [-41.3, 174.8], [42.4, -71.1], [44.1, -123.1], [45.5, -73.6], [48.1, 11.6], [51.5, -0.1], [-54.8, -68.3], [55.8, 37.6], [59.3, 18.1], [64.1, -21.9],
]
const days = ['2024-02-29', '2025-03-20', '2025-06-21', '2025-09-22', '2025-12-21', '2026-01-15', '2026-05-14', '2026-08-03', '2026-11-28', '2031-04-10']

/// The zone by the sun: whole hours from the longitude. 'Etc/GMT+5' lies west.
const zone = (longitude) => {
  const hours = Math.round(longitude / 15)
  return { name: hours === 0 ? 'Etc/GMT' : `Etc/GMT${hours > 0 ? '-' : '+'}${Math.abs(hours)}`, hours }
}
export async function sun() {
  const { Body, Observer, SearchHourAngle, SearchRiseSet } = library('astronomy-engine')
  const grid = places.flatMap(([latitude, longitude]) => days.map((day) => ({ latitude, longitude, day })))
  await each(grid, async ({ latitude, longitude, day }) => {
    const { name, hours } = zone(longitude)
    const ours = await work('sun', [['latitude', `${latitude}`], ['longitude', `${longitude}`], ['date', day], ['zone', name]])
    const what = `${latitude}, ${longitude}, ${day}`
    if (ours.refused) return holds('sun', `${what}: ${ours.refused}`, false)
    const observer = new Observer(latitude, longitude, 0)
    const midnight = new Date(Date.parse(`${day}T00:00:00Z`) - hours * 3600e3)
    const theirs = {
      sunrise: SearchRiseSet(Body.Sun, observer, +1, midnight, 1.2)?.date,
      noon: SearchHourAngle(Body.Sun, observer, 0, midnight).time.date,
      sunset: SearchRiseSet(Body.Sun, observer, -1, midnight, 1.2)?.date,
    }
    for (const part of ['sunrise', 'noon', 'sunset']) {
      const limit_s = part !== 'noon' && Math.abs(latitude) > 60 ? 60 : 15
      agree('sun', `${part} at ${what}`, Date.parse(ours[part]) / 1000, theirs[part].getTime() / 1000, limit_s, 's')
    }
  })
}
