// Writes positions.csv; see README.md.
import * as astronomy from 'astronomy-engine';
import * as suncalc from 'suncalc';

const latitudes = [-90, -60, -35, 0, 20, 43, 52, 70, 90];
const longitudes = [0, -90, 150];
const hours = [-6.5, -4, -2, -0.25, 1, 3, 5, 7];
console.log('utc,day,latitude_deg,longitude_deg,solar_h,declination_deg,altitude_deg,azimuth_deg,second_altitude_deg,second_azimuth_deg');
let k = 0;
for (const year of [2025, 2026, 2027, 2028])
  for (let month = 0; month < 12; month++)
    for (const date of [5, 21])
      for (let i = 0; i < 3; i++) {
        k++;
        const lat = latitudes[(k * 5) % latitudes.length];
        const lon = longitudes[(k + month) % longitudes.length];
        const h = hours[(k * 3) % hours.length];
        const t = new Date(Date.UTC(year, month, date, 12) + (h - lon / 15) * 3600e3);
        t.setUTCSeconds(0, 0);
        const day = Math.round((Date.UTC(year, month, date) - Date.UTC(year, 0, 1)) / 864e5) + 1;
        const observer = new astronomy.Observer(lat, lon, 0);
        const sun = astronomy.Equator(astronomy.Body.Sun, t, observer, true, true);
        const seen = astronomy.Horizon(t, observer, sun.ra, sun.dec, null);
        const solar = 12 + ((astronomy.HourAngle(astronomy.Body.Sun, t, observer) + 36) % 24) - 12;
        const second = suncalc.getPosition(t, lat, lon);
        console.log([t.toISOString().slice(0, 16) + 'Z', day, lat, lon, solar.toFixed(5), sun.dec.toFixed(4),
          seen.altitude.toFixed(4), seen.azimuth.toFixed(4),
          second.altitude.toFixed(4), second.azimuth.toFixed(4)].join(','));
      }
