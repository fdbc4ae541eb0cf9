// A drum kit out of noise and oscillators, invented for practising: each sound can be told from every other.

const PEAK = 127;
const NOISE_SECONDS = 2;

// Of each General MIDI key what it is made of; times in seconds, pitches in hertz.
const KIT = {
  36: { sweep: [130, 46, 0.09], lasts: 0.32, level: 1.1, tick: 0.25 },
  38: { tones: [186, 331], noise: ["highpass", 1400], lasts: 0.19, level: 0.75, share: 0.45 },
  40: { tones: [220, 412, 845], noise: ["highpass", 1800], lasts: 0.16, level: 0.85, share: 0.55 },
  37: { tones: [1720, 940], noise: ["bandpass", 2100], lasts: 0.06, level: 0.8, share: 0.7 },
  42: { noise: ["highpass", 7600], lasts: 0.055, level: 0.42, chokes: true },
  46: { noise: ["highpass", 6400], lasts: 0.5, level: 0.4, rings: true },
  44: { noise: ["bandpass", 5200], lasts: 0.07, level: 0.42, chokes: true },
  51: { metal: 3250, noise: ["highpass", 8200], lasts: 0.75, level: 0.3 },
  53: { tones: [812, 1218, 2070], lasts: 0.9, level: 0.4, share: 1 },
  49: { metal: 2600, noise: ["highpass", 4200], lasts: 1.7, level: 0.5 },
  55: { metal: 4100, noise: ["highpass", 5600], lasts: 0.65, level: 0.42 },
  52: { metal: 1900, noise: ["bandpass", 3300], lasts: 1.1, level: 0.5 },
  50: { sweep: [248, 176, 0.07], lasts: 0.3, level: 0.85, tick: 0.12 },
  47: { sweep: [188, 132, 0.08], lasts: 0.36, level: 0.9, tick: 0.12 },
  43: { sweep: [132, 86, 0.09], lasts: 0.45, level: 1, tick: 0.12 },
  56: { tones: [562, 842], wave: "square", lasts: 0.22, level: 0.22, share: 1 },
  76: { tones: [1870], lasts: 0.045, level: 0.55, share: 1 },
  77: { tones: [1250], lasts: 0.045, level: 0.5, share: 1 },
};

export class Drums {
  constructor(context) {
    this.context = context;
    this.press = context.createDynamicsCompressor();
    this.press.threshold.value = -14;
    this.press.connect(context.destination);
    this.noise = this.makeNoise();
    this.loudness = 1;
    this.begin();
  }

  begin() {
    this.out = this.context.createGain();
    this.out.gain.value = this.loudness;
    this.out.connect(this.press);
    this.open = null;
  }

  set volume(share) {
    this.loudness = share * share;
    this.out.gain.setTargetAtTime(this.loudness, this.context.currentTime, 0.01);
  }

  // End what rings, and what has been handed over for later.
  hush() {
    const { out } = this;
    out.gain.cancelScheduledValues(this.context.currentTime);
    out.gain.setTargetAtTime(0, this.context.currentTime, 0.01);
    setTimeout(() => out.disconnect(), 100);
    this.begin();
  }

  // The same noise every time, from a generator of our own.
  makeNoise() {
    const buffer = this.context.createBuffer(1, NOISE_SECONDS * this.context.sampleRate, this.context.sampleRate);
    const samples = buffer.getChannelData(0);
    let seed = 1;
    for (let index = 0; index < samples.length; index += 1) {
      seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
      samples[index] = seed / 2 ** 31 - 1;
    }
    return buffer;
  }

  // Sound a key at a time of the context's clock, as hard as MIDI says, from 1 to 127.
  strike(key, time, velocity) {
    const about = KIT[key];
    if (!about) return;
    const loud = about.level * (velocity / PEAK) ** 1.6;
    if (about.chokes) this.choke(time);
    const fade = this.fade(time, loud, about.lasts);
    if (about.rings) this.open = fade;
    const share = about.share ?? 0.5;
    if (about.sweep) this.sweep(fade, time, about);
    for (const pitch of about.tones ?? []) this.tone(fade, time, about, pitch, share / about.tones.length);
    if (about.metal) for (const ratio of [1, 1.342, 1.573, 2.217]) this.tone(fade, time, { ...about, wave: "square" }, about.metal * ratio, 0.05);
    if (about.noise) this.hiss(fade, time, about, about.tones ? 1 - share : 1);
    if (about.tick) this.hiss(this.fade(time, loud * about.tick, 0.015), time, { noise: ["highpass", 2500], lasts: 0.02 }, 1);
  }

  fade(time, loud, lasts) {
    const gain = this.context.createGain();
    gain.gain.setValueAtTime(loud, time);
    gain.gain.exponentialRampToValueAtTime(0.0008, time + lasts);
    gain.connect(this.out);
    return gain;
  }

  // A closed hi-hat, and its pedal, end what the open one rings.
  choke(time) {
    if (!this.open) return;
    this.open.gain.cancelScheduledValues(time);
    this.open.gain.setTargetAtTime(0, time, 0.008);
    this.open = null;
  }

  sweep(out, time, { sweep: [from, to, over], lasts }) {
    const oscillator = this.context.createOscillator();
    oscillator.frequency.setValueAtTime(from, time);
    oscillator.frequency.exponentialRampToValueAtTime(to, time + over);
    this.run(oscillator, out, time, lasts);
  }

  tone(out, time, { wave = "triangle", lasts }, pitch, share) {
    const oscillator = this.context.createOscillator();
    oscillator.type = wave;
    oscillator.frequency.value = pitch;
    this.run(oscillator, this.at(share, out), time, lasts);
  }

  hiss(out, time, { noise: [type, pitch], lasts }, share) {
    const source = this.context.createBufferSource();
    source.buffer = this.noise;
    source.loop = true;
    const filter = this.context.createBiquadFilter();
    filter.type = type;
    filter.frequency.value = pitch;
    filter.connect(this.at(share, out));
    this.run(source, filter, time, lasts);
  }

  at(share, out) {
    const gain = this.context.createGain();
    gain.gain.value = share;
    gain.connect(out);
    return gain;
  }

  run(source, out, time, lasts) {
    source.connect(out);
    source.start(time);
    source.stop(time + lasts);
  }
}
