package quantity
