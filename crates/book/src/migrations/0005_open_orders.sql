-- The open orders by the catalog that they were reviewed with, so that those with another one are found without reading all.
CREATE INDEX orders_open_by_mark ON orders (catalog_mark, number) WHERE state NOT IN ('shipped', 'closed');
