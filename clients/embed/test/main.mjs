// All tests, in one browser.
import './axe.mjs';
import './converter.mjs';
import './salt.mjs';
import './transfer.mjs';
import './species.mjs';
import './host.mjs';
import './start.mjs';
import './journey.mjs';
