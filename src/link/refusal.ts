// Why a port would not open, in words that say what to do. Pure; who holds the port is found elsewhere.
import { forScreen } from '../core/safe-text.ts';

/** True where another program has the port: then it is worth finding out which. */
export const isHeldElsewhere = (message: string): boolean =>
  /cannot lock|access denied|resource busy/i.test(message);

/**
 * A sentence for the turner from the system's own message. `holders` names programs that have the port open, where
 * that could be found out.
 */
export function refusalOf(path: string, message: string, holders: readonly string[]): string {
  const port = forScreen(path);
  if (isHeldElsewhere(message)) {
    const who = holders.length > 0 ? holders.join(', ') : 'a serial monitor, or a second lidwright';
    const sure = holders.length > 0 ? 'is open in' : 'is open in another program, perhaps';
    return `${port} ${sure} ${who}: end it there, and the link comes up by itself`;
  }
  if (/permission denied|operation not permitted/i.test(message))
    return `${port} may not be opened by you: join the group that owns it (on most Linux systems: sudo usermod -aG dialout $USER), then log in again`;
  if (/no such file|file not found|ENOENT/i.test(message))
    return `${port} is not there: plug the board in, and the link comes up by itself; lidwright ports lists what is plugged in`;
  if (/inappropriate ioctl|not a tty|not a typewriter/i.test(message))
    return `${port} is not a serial port: give another with --port; lidwright ports lists what is plugged in`;
  if (/baud/i.test(message))
    return `${port} does not take this speed: give the board's own with --baud (${forScreen(message)})`;
  return `${port} would not open: ${forScreen(message)}`;
}
