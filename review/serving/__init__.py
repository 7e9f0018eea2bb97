"""How a request comes in from the network and its answer goes out: nothing slow, and nothing large, holds a worker."""
