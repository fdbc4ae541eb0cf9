"""The drawn kit of the drum key: shapes, the instruments made of them, the names round them."""
