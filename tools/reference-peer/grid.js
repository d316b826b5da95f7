// Makes the grid's columns again from psychrolib and says how far the kept grid is from them. Usage: grid.js <kept> <new>.
'use strict';
const fs = require('fs');
const psychro = require('psychrolib');

psychro.SetUnitSystem(psychro.SI);
const kept = fs.readFileSync(process.argv[2], 'utf8').split('\n').filter(l => l && l[0] !== '#');
const names = kept[0].split(',');
const columns = ['pws_tdb_pa', 'pw_pa', 'tdp_psychrolib_c', 'w_kg_per_kg_da', 'twb_psychrolib_c', 'h_j_per_kg_da', 'v_m3_per_kg_da', 'rho_moist_kg_m3'];
const worst = {};
const lines = ['tdb_c,rh_pct,p_pa,' + columns.join(',')];
for (const line of kept.slice(1)) {
  const cells = line.split(',');
  const at = name => Number(cells[names.indexOf(name)]);
  const [t, rh, p] = [at('tdb_c'), at('rh_pct') / 100, at('p_pa')];
  const w = psychro.GetHumRatioFromRelHum(t, rh, p);
  const made = [
    psychro.GetSatVapPres(t), psychro.GetVapPresFromRelHum(t, rh), psychro.GetTDewPointFromRelHum(t, rh), w,
    psychro.GetTWetBulbFromRelHum(t, rh, p), psychro.GetMoistAirEnthalpy(t, w), psychro.GetMoistAirVolume(t, w, p),
    psychro.GetMoistAirDensity(t, w, p)];
  columns.forEach((name, i) => { worst[name] = Math.max(worst[name] || 0, Math.abs(made[i] - at(name))); });
  lines.push([t, at('rh_pct'), p, ...made].join(','));
}
fs.writeFileSync(process.argv[3], lines.join('\n') + '\n');
console.log(`grid: ${lines.length - 1} states made again; largest difference from the kept grid (its pressures are rounded to 0.1 Pa):`);
for (const name of columns) console.log(`  ${name.padEnd(20)} ${worst[name].toPrecision(3)}`);
