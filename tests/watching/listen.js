// Keeps the clock of the sound, and when each sound was started by it.
window.heard = [];
const Usual = window.AudioContext;
window.AudioContext = class extends Usual {
  constructor(...given) {
    super(...given);
    window.soundClock = this;
  }
};
const start = AudioScheduledSourceNode.prototype.start;
AudioScheduledSourceNode.prototype.start = function (time, ...more) {
  window.heard.push(time);
  return start.call(this, time, ...more);
};
const startBuffer = AudioBufferSourceNode.prototype.start;
AudioBufferSourceNode.prototype.start = function (time, ...more) {
  window.heard.push(time);
  return startBuffer.call(this, time, ...more);
};
