// "states <file>": 100,000 seeded random states. "compare <states> <ours>": psychrolib beside ours, worst differences and times.
// psychrolib's relative humidity and dew point are over ice below 0.01 °C, ours over water: the vapour pressure is handed over.
'use strict';
const fs = require('fs');
const psychro = require('psychrolib');

// Mulberry32: small, seeded, the same everywhere.
function sequence(seed) {
  return () => {
    seed = (seed + 0x6D2B79F5) | 0;
    let x = Math.imul(seed ^ (seed >>> 15), 1 | seed);
    x = (x + Math.imul(x ^ (x >>> 7), 61 | x)) ^ x;
    return ((x ^ (x >>> 14)) >>> 0) / 4294967296;
  };
}

if (process.argv[2] === 'states') {
  const next = sequence(20260101);
  const lines = [];
  for (let i = 0; i < 100000; i++) lines.push([-20 + 70 * next(), 3 + 97 * next(), 70000 + 38000 * next()].join(','));
  fs.writeFileSync(process.argv[3], lines.join('\n') + '\n');
  return;
}

psychro.SetUnitSystem(psychro.SI);
const read = file => fs.readFileSync(file, 'utf8').trim().split('\n').map(l => l.split(',').map(Number));
const states = read(process.argv[3]);
const [[oursNanoseconds], ...ours] = read(process.argv[4]);
const worst = {};
function note(name, difference, state) {
  const size = Math.abs(difference);
  if (!(size <= (worst[name] ? worst[name].size : -1))) worst[name] = { size, state };
}

let bothBulbs = 0;
const began = process.hrtime.bigint();
const theirs = states.map(([t, rh, p], i) => {
  const vapour = rh / 100 * ours[i][0];
  const w = psychro.GetHumRatioFromVapPres(vapour, p);
  return [psychro.GetSatVapPres(t), psychro.GetTDewPointFromVapPres(t, Math.min(vapour, psychro.GetSatVapPres(t))), w,
    psychro.GetMoistAirEnthalpy(t, w), psychro.GetMoistAirVolume(t, w, p)];
});
const theirNanoseconds = Number(process.hrtime.bigint() - began) / states.length;
const began2 = process.hrtime.bigint();
const wet = states.map(([t, , p], i) => {
  const saturated = psychro.GetSatHumRatio(t, p);
  return theirs[i][2] > saturated ? NaN : psychro.GetTWetBulbFromHumRatio(t, theirs[i][2], p);
});
const wetNanoseconds = Number(process.hrtime.bigint() - began2) / states.length;
states.forEach((state, i) => {
  const [t, , p] = state;
  const [pws, dew, frost, w, bulb, h, v] = ours[i];
  if (t > 0.01) note('saturation pressure, relative', pws / theirs[i][0] - 1, state);
  const saturatedOverIce = t <= 0.01 && rhOverIce(state, pws) >= 1;
  if (!saturatedOverIce) {
    // psychrolib stops at 0.001 K and takes ice below 0.01 °C.
    if (theirs[i][1] > 0.02) note('dew point, K', dew - theirs[i][1], state);
    else if (theirs[i][1] < 0) note('frost point, K', frost - theirs[i][1], state);
  }
  note('humidity ratio, kg/kg', w - theirs[i][2], state);
  note('enthalpy, kJ/kg', h - theirs[i][3] / 1000, state);
  note('specific volume, relative', v / theirs[i][4] - 1, state);
  if (Number.isNaN(wet[i])) return;
  // Around 0 °C both a wet and an iced bulb solve the equations; psychrolib ends on either.
  const vapour = psychro.GetSatVapPres(0), saturated = 0.621945 * vapour / (p - vapour);
  const both = w >= (2501 * saturated - 1.006 * t) / (2501 + 1.86 * t) && w < (2830 * saturated - 1.006 * t) / (2830 + 1.86 * t);
  if (t > 0 && both) bothBulbs++;
  else note('wet bulb, K', bulb - wet[i], state);
});

function rhOverIce([, rh], pws) { return rh / 100 * pws / psychro.GetSatVapPres(arguments[0][0]); }

console.log(`${states.length} states, worst differences ours − psychrolib (its own iterations stop at 0.001 K):`);
for (const [name, { size, state }] of Object.entries(worst)) {
  console.log(`  ${name.padEnd(30)} ${size.toExponential(2)}  at ${state.map(x => x.toPrecision(5)).join(', ')}`);
}
console.log(`  ${bothBulbs} states with two bulbs at 0 °C left out of the wet-bulb line`);
console.log(`time a state: ours ${oursNanoseconds.toFixed(0)} ns for all of it; psychrolib on node ${theirNanoseconds.toFixed(0)} ns without and ${(theirNanoseconds + wetNanoseconds).toFixed(0)} ns with the wet bulb`);
