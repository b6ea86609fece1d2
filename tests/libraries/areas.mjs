// Areas of fields on the WGS 84 ellipsoid beside @turf/area, which takes the earth as a sphere of 6,371,008.8 m.
// Its error is known: at latitude φ a small field on the ellipsoid is M·N/R² times that on the sphere (M, N: radii of
// curvature in the meridian and across it). Ours must lie exactly there, and the two never more than 0.8 % apart.
import { agree, each, library, work } from './ask.mjs'

const sphere = 6371008.8, a = 6378137, f = 1 / 298.257223563, e2 = f * (2 - f)
const knownRatio = (latitude) => {
  const w2 = 1 - e2 * Math.sin((latitude * Math.PI) / 180) ** 2
  return (a * a * (1 - e2)) / (w2 * w2) / (sphere * sphere)
}

/// A field of `corners`, `across` meters wide, somewhat uneven, around a place.
function field(latitude, longitude, corners, across) {
  const points = []
  for (let i = 0; i < corners; i += 1) {
    const angle = (2 * Math.PI * i) / corners
    const out = (across / 2) * (1 + 0.25 * Math.sin(3 * angle + corners))
    const north = (out * Math.cos(angle)) / 111200, east = (out * Math.sin(angle)) / (111200 * Math.cos((latitude * Math.PI) / 180))
    points.push([(latitude + north).toFixed(8), (longitude + east).toFixed(8)])
  }
  return points
}

export async function areas() {
  const turf = library('@turf/area')
  const fields = []
  for (const latitude of [-60, -45, -30, -15, 0, 15, 30, 44.1, 60, 70])
    for (const [corners, across] of [[3, 80], [4, 300], [7, 900], [12, 40]]) fields.push([latitude, latitude * 2 - 40, corners, across])
  await each(fields, async ([latitude, longitude, corners, across]) => {
    const points = field(latitude, longitude, corners, across)
    const ours = (await work('area', points.map(([lat, lon]) => ['point', `${lat}; ${lon}`])))['area']
    const ring = points.map(([lat, lon]) => [Number(lon), Number(lat)])
    const theirs = turf.area({ type: 'Polygon', coordinates: [[...ring, ring[0]]] })
    const what = `${corners} corners, ${across} m, ${latitude}°`
    // 2 parts in 100,000: eight decimals of a degree are a millimeter, and the ratio is taken at the field's middle.
    agree('areas', `${what}, by the known error`, ours / theirs, knownRatio(latitude), 2e-5, '(ratio)')
    agree('areas', what, ours / theirs, 1, 0.008, '(ratio)')
  })
}
