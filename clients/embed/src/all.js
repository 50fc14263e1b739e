// All elements in one module.
import './converter.js';
import './salt.js';
import './species.js';
import './transfer.js';
