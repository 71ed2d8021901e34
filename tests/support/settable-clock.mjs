// Loaded before a program under test: each SIGUSR2 sets its wall clock an hour back, as a hand or a time server may.
const HOUR = 3_600_000;
const RealDate = Date;
let behind = 0;

globalThis.Date = class extends RealDate {
  constructor(...args) {
    if (args.length === 0) super(RealDate.now() - behind);
    else super(...args);
  }
  static now() {
    return RealDate.now() - behind;
  }
};
process.on('SIGUSR2', () => {
  behind += HOUR;
});
